/** What is told apart by lots where two ways meet. */
import { DISPLAY_COLUMNS } from '../../../machine/memory-map.js';
import type { Name } from '../../names.js';
import { LAST_PRINT_ROW } from '../../printing.js';
import type { Held, State } from '../state.js';
import type { Display, Lots, Places } from './lots.js';

/**
 * Takes in the lots of another way, before the rest of its state is. What cannot be told apart any more
 * is told of all lots together. Was anything new?
 */
export function joinLots(mine: State, theirs: State): boolean {
  const [a, b] = [mine.lots, theirs.lots];
  if (a === undefined) return false;
  if (b === undefined || a.beginning !== b.beginning) return mine.forgetLots();
  const joining = new Joining(a, b.copy());
  if (!joining.sameSeeds()) return mine.forgetLots();
  a.effort.spend(a.alive.length + b.alive.length);
  joining.joinNumbers(mine, theirs, 'values', (held) => held.number ?? held.length);
  joining.joinNumbers(mine, theirs, 'limits', (held) => held.counting?.limit);
  joining.joinDisplays(mine, theirs);
  joining.joinPlaces(mine, theirs);
  return joining.finish();
}

type Range = { readonly low: number; readonly high: number } | undefined;

class Joining {
  /** Lots of the second alone, and those of both. */
  private readonly added: Uint16Array;
  private readonly both: Uint16Array;
  private changed: boolean;

  constructor(
    private readonly a: Lots,
    private readonly b: Lots,
  ) {
    const [added, both]: number[][] = [[], []];
    if (a.alive !== b.alive) {
      const known = new Uint8Array(a.size);
      for (const lot of a.alive) known[lot] = 1;
      for (const lot of b.alive) (known[lot] === 1 ? both : added).push(lot);
    }
    this.added = Uint16Array.from(added);
    this.both = a.alive === b.alive ? a.alive : Uint16Array.from(both);
    this.changed = added.length > 0;
  }

  /** Has no lot come to draw more often on one way than on the other? Takes in what SEED holds. */
  sameSeeds(): boolean {
    const { a, b } = this;
    if (a.seeds === b.seeds) return true;
    for (const lot of this.both) if (a.seeds[lot] !== b.seeds[lot]) return false;
    const seeds = a.seeds.slice();
    for (const lot of this.added) seeds[lot] = b.seeds[lot];
    a.seeds = seeds;
    return true;
  }

  joinNumbers(
    mine: State,
    theirs: State,
    kind: 'values' | 'limits',
    of: (held: Held) => Range,
  ): void {
    const joined = new Map<Name, Float64Array>();
    for (const name of mine.variables.keys()) {
      const other = theirs.variables.get(name);
      // Elements are not told apart.
      if (other === undefined || other.element !== undefined || name.endsWith('()')) continue;
      const first = this.a[kind].get(name);
      const second = this.b[kind].get(name);
      const [known, added] = [of(mine.variables.get(name)!), of(other)];
      if (first === undefined && second === undefined && sameRange(known, added)) continue;
      const values = this.joinValues(
        first ?? alike(known, this.a.size),
        second ?? alike(added, this.a.size),
      );
      if (values !== undefined) joined.set(name, values);
      else if (first !== undefined) this.changed = true;
    }
    // What is set on one way alone is read behind that way, or the machine stops.
    for (const [name, values] of this.a[kind]) {
      if (!theirs.variables.has(name)) joined.set(name, values);
    }
    for (const [name, values] of this.b[kind]) {
      if (!mine.variables.has(name)) joined.set(name, values);
    }
    this.a[kind] = joined;
  }

  private joinValues(
    first: Float64Array | undefined,
    second: Float64Array | undefined,
  ): Float64Array | undefined {
    if (first === undefined || second === undefined || first === second) return first && second;
    for (const lot of this.both) if (first[lot] !== second[lot]) return undefined;
    const values = first.slice();
    for (const lot of this.added) values[lot] = second[lot];
    return values;
  }

  joinDisplays(mine: State, theirs: State): void {
    const { a, b } = this;
    if (a.display === undefined && b.display === undefined) {
      const same = mine.rows.every((width, row) => width === theirs.rows[row]);
      if (same && mine.printed === theirs.printed) return;
    }
    const display = a.ownDisplay(mine.rows, mine.printed);
    const other = b.ownDisplay(theirs.rows, theirs.printed);
    for (let row = 0; row <= LAST_PRINT_ROW; row++) {
      if (display.rows[row] !== other.rows[row]) this.joinRow(display, row);
    }
    for (const lot of this.added) {
      display.sums[lot] = other.sums[lot];
      display.printed[lot] = other.printed[lot];
    }
    for (const lot of this.both) {
      if (other.printed[lot] <= display.printed[lot]) continue;
      display.printed[lot] = other.printed[lot];
      this.changed = true;
    }
  }

  private joinRow({ sums }: Display, row: number): void {
    const widths = this.a.ownRow(row);
    const more = this.b.ownRow(row);
    for (const lot of this.added) widths[lot] = more[lot];
    for (const lot of this.both) {
      if (more[lot] <= widths[lot]) continue;
      sums[lot] += more[lot] - widths[lot];
      widths[lot] = more[lot];
      this.changed = true;
    }
  }

  joinPlaces(mine: State, theirs: State): void {
    const { a, b } = this;
    if (a.places === undefined && b.places === undefined) {
      const [one, other] = [mine.cursor, theirs.cursor];
      if (one.rowLow === other.rowLow && one.rowHigh === other.rowHigh) {
        if (one.columnLow === other.columnLow && one.columnHigh === other.columnHigh) return;
      }
    }
    const first = a.places ?? placesOf(mine);
    const second = b.places ?? placesOf(theirs);
    const together = this.togetherAt(first, second);
    if (together === undefined && a.places !== undefined) this.changed = true;
    a.places = together;
  }

  private togetherAt(first: Places | undefined, second: Places | undefined): Places | undefined {
    if (first === undefined || second === undefined) return undefined;
    for (const lot of this.both) {
      if (first.rows[lot] !== second.rows[lot]) return undefined;
      if (first.columns[lot] !== second.columns[lot]) return undefined;
    }
    const rows = first.rows.slice();
    const columns = first.columns.slice();
    for (const lot of this.added) {
      rows[lot] = second.rows[lot];
      columns[lot] = second.columns[lot];
    }
    return { rows, columns };
  }

  finish(): boolean {
    if (this.added.length > 0) {
      const alive = new Uint16Array(this.a.alive.length + this.added.length);
      alive.set(this.a.alive);
      alive.set(this.added, this.a.alive.length);
      this.a.alive = alive;
    }
    return this.changed;
  }
}

const sameRange = (a: Range, b: Range): boolean => a?.low === b?.low && a?.high === b?.high;

/** What all lots have alike, for each of them. */
function alike(range: Range, size: number): Float64Array | undefined {
  if (range === undefined || range.low !== range.high || !Number.isFinite(range.low)) {
    return undefined;
  }
  return new Float64Array(size).fill(range.low);
}

/** The place of printing for each lot, where it is known. */
export function placesOf({ cursor, lots }: State): Places | undefined {
  const { rowLow, rowHigh, columnLow, columnHigh } = cursor;
  if (rowLow !== rowHigh || columnLow !== columnHigh || columnHigh > DISPLAY_COLUMNS) {
    return undefined;
  }
  return {
    rows: new Uint8Array(lots!.size).fill(rowLow),
    columns: new Uint8Array(lots!.size).fill(columnLow),
  };
}
