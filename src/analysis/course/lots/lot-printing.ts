/**
 * PRINT and PLOT lot by lot, where lots print at places of their own or differ in what they print: as
 * the rehearsal's screen does it (src/rehearsal/state/screen.ts).
 */
import type { Expression, PrintItem } from '../../../../grammar/tree.js';
import { wholeOf } from '../../../machine/arithmetic/operations.js';
import { DISPLAY_COLUMNS, PLOT_COLUMNS, PLOT_ROWS } from '../../../machine/memory-map.js';
import { printedLength } from '../../printed-length.js';
import { LAST_PRINT_ROW } from '../../printing.js';
import { expressionsOfItem } from '../../steps.js';
import type { State } from '../state.js';
import { placesOf } from './join.js';
import { charactersOf, dependsOnLots, drawsOf, lengthOf, numberOf } from './lot-values.js';
import type { Display, Lots, OfLot, Places } from './lots.js';

const COMMA_COLUMN = DISPLAY_COLUMNS / 2;
/** In the place of a row: the run has ended for this lot. */
const GONE = 255;
/** TAB takes a byte. */
const LARGEST_TAB = 255;

type Act = (pen: Pen) => void;

/** Do some lots print elsewhere, or otherwise, than others? */
export function printsByLots(items: readonly PrintItem[], { lots }: State): boolean {
  if (lots === undefined) return false;
  return (
    lots.places !== undefined ||
    items.some((item) => expressionsOfItem(item).some((node) => dependsOnLots(node, lots)))
  );
}

/**
 * Prints; `working` is told of each item that is about to be worked out. Gives whether any lot stays on
 * the display, and goes on with these; undefined where lots cannot be told apart in this, and nothing
 * was done. `longest`: characters that one character of a string is shown as at most.
 */
export function printLots(
  items: readonly PrintItem[],
  state: State,
  longest: number,
  working: (item: PrintItem) => void,
): boolean | undefined {
  const places = state.lots?.places ?? placesOf(state);
  if (places === undefined) return undefined;
  const acts = items.map((item) => actOf(item, state, longest));
  if (acts.includes(undefined)) return undefined;
  const pen = new Pen(state, places);
  items.forEach((item, at) => {
    if (item.kind !== 'separator') working(item);
    acts[at]!(pen);
  });
  const last = items.at(-1);
  const stays = last?.kind === 'separator' || last?.kind === 'AT' || last?.kind === 'TAB';
  if (!stays) pen.newRow();
  return pen.lift();
}

/** PLOT and UNPLOT, in the same way. */
export function plotLots(args: readonly Expression[], state: State): boolean | undefined {
  const { lots } = state;
  if (lots === undefined || !args.some((node) => dependsOnLots(node, lots))) return undefined;
  const [x, y] = args.map((node) => numberOf(node, state));
  if (x === undefined || y === undefined) return undefined;
  const across = lots.lookAt(x, drawsOf(args[0]));
  const up = lots.lookAt(y, drawsOf(args[1]), 1);
  const { size } = lots;
  const pen = new Pen(state, { rows: new Uint8Array(size), columns: new Uint8Array(size) });
  pen.plot(across, up);
  return pen.lift();
}

/** What an item does; undefined where that is not known lot by lot. */
function actOf(item: PrintItem, state: State, longest: number): Act | undefined {
  switch (item.kind) {
    case 'separator':
      return item.text === ',' ? (pen) => pen.comma() : () => {};
    case 'AT': {
      const [row, column] = [numberOf(item.row, state), numberOf(item.column, state)];
      if (row === undefined || column === undefined) return undefined;
      const [first, second] = [drawsOf(item.row), drawsOf(item.column)];
      return (pen) => {
        const rows = pen.lots.lookAt(row, first);
        pen.at(rows, pen.lots.lookAt(column, second, 1));
      };
    }
    case 'TAB': {
      const column = numberOf(item.column, state);
      return column && ((pen) => pen.tab(pen.lots.lookAt(column, drawsOf(item.column))));
    }
    default: {
      const length = charactersIn(item, state, longest);
      return length && ((pen) => pen.write(pen.lots.lookAt(length, drawsOf(item))));
    }
  }
}

/** Characters that are printed. */
function charactersIn(item: Expression, state: State, longest: number): OfLot | undefined {
  if (item.type === 'number') {
    const value = numberOf(item, state);
    return value && ((lot) => charactersOf(value(lot)));
  }
  if (longest === 1 && dependsOnLots(item, state.lots)) return lengthOf(item, state);
  const { low, high } = printedLength(item, state, longest);
  return low === high ? () => low : undefined;
}

/** Where each lot prints, and how wide that makes its rows. */
class Pen {
  readonly lots: Lots;
  private readonly rows: Uint8Array;
  private readonly columns: Uint8Array;
  private readonly display: Display;
  /** Rows of the display that may be changed. */
  private readonly own: (Uint8Array | undefined)[] = [];
  private most: number;
  private widest = new Uint8Array(LAST_PRINT_ROW + 1);

  constructor(
    private readonly state: State,
    places: Places,
  ) {
    this.lots = state.lots!;
    this.rows = places.rows.slice();
    this.columns = places.columns.slice();
    this.display = this.lots.ownDisplay(state.rows, state.printed);
    this.most = state.printed;
  }

  at(rows: Float64Array, columns: Float64Array): void {
    this.each((lot) => {
      const row = Math.abs(wholeOf(rows[lot]));
      const column = Math.abs(wholeOf(columns[lot]));
      if (row <= LAST_PRINT_ROW && column < DISPLAY_COLUMNS) this.locate(lot, row, column);
      else this.rows[lot] = GONE;
    });
  }

  tab(columns: Float64Array): void {
    this.each((lot) => {
      const found = wholeOf(columns[lot]);
      const column = found % DISPLAY_COLUMNS;
      const row = this.rows[lot] + (column < this.columns[lot] ? 1 : 0);
      if (found >= 0 && found <= LARGEST_TAB && row <= LAST_PRINT_ROW) {
        this.locate(lot, row, column);
      } else this.rows[lot] = GONE;
    });
  }

  comma(): void {
    this.each((lot) => {
      this.put(lot, 1);
      if (this.rows[lot] === GONE) return;
      if (this.columns[lot] > COMMA_COLUMN) this.columns[lot] = DISPLAY_COLUMNS;
      else this.locate(lot, this.rows[lot], COMMA_COLUMN);
    });
  }

  write(lengths: Float64Array): void {
    this.each((lot) => this.put(lot, lengths[lot]));
  }

  newRow(): void {
    this.each((lot) => {
      if (this.rows[lot] > LAST_PRINT_ROW) this.rows[lot] = GONE;
      else {
        this.rows[lot]++;
        this.columns[lot] = 0;
      }
    });
  }

  plot(across: Float64Array, up: Float64Array): void {
    this.each((lot) => {
      const x = Math.abs(wholeOf(across[lot]));
      const y = Math.abs(wholeOf(up[lot]));
      if (x < PLOT_COLUMNS && y < PLOT_ROWS) {
        this.locate(lot, (PLOT_ROWS - 1 - y) >> 1, x >> 1);
        this.put(lot, 1);
      } else this.rows[lot] = GONE;
    });
  }

  /** What was done is put into the state; false where no lot has stayed on the display. */
  lift(): boolean {
    const { state, lots, rows, columns } = this;
    let [rowLow, rowHigh, columnLow, columnHigh] = [GONE, 0, GONE, 0];
    let left = 0;
    const alive = new Uint16Array(lots.alive.length);
    for (const lot of lots.alive) {
      const row = rows[lot];
      if (row === GONE) continue;
      alive[left++] = lot;
      const column = columns[lot];
      if (row < rowLow) rowLow = row;
      if (row > rowHigh) rowHigh = row;
      if (column < columnLow) columnLow = column;
      if (column > columnHigh) columnHigh = column;
    }
    if (left === 0) return false;
    if (left < lots.alive.length) lots.alive = alive.subarray(0, left);
    const cursor = { rowLow, rowHigh, columnLow, columnHigh };
    if (rowLow === rowHigh && columnLow === columnHigh) state.cursor = cursor;
    else state.putCursors(cursor, { rows, columns });
    return true;
  }

  /** Does something for each lot that is still there; what the state says of all of them follows. */
  private each(act: (lot: number) => void): void {
    const { lots, rows, state } = this;
    const { alive } = lots;
    const { length } = alive;
    for (let at = 0; at < length; at++) {
      const lot = alive[at];
      if (rows[lot] !== GONE) act(lot);
    }
    lots.effort.spend(lots.alive.length);
    this.widest.forEach((width, row) => {
      state.widen(row, width);
    });
    state.printed = this.most;
  }

  /** Characters one after another; at the end of a row on at the start of the next. */
  private put(lot: number, length: number): void {
    let row = this.rows[lot];
    let column = this.columns[lot];
    // The machine stops in the text where it does not know its length.
    for (let rest = length; rest > 0; ) {
      if (column === DISPLAY_COLUMNS) {
        row++;
        column = 0;
      }
      if (row > LAST_PRINT_ROW) {
        this.rows[lot] = GONE;
        return;
      }
      const part = Math.min(rest, DISPLAY_COLUMNS - column);
      column += part;
      rest -= part;
      this.grow(lot, row, column, part);
    }
    this.rows[lot] = row;
    this.columns[lot] = column;
  }

  /** Goes to a place; the row is filled up to it. */
  private locate(lot: number, row: number, column: number): void {
    if (column > 0) this.grow(lot, row, column, column);
    this.rows[lot] = row;
    this.columns[lot] = column;
  }

  private grow(lot: number, row: number, width: number, most: number): void {
    const { sums, printed } = this.display;
    const widths = this.own[row] ?? this.ownRow(row);
    const before = widths[lot];
    if (width > before) {
      widths[lot] = width;
      sums[lot] += width - before;
      if (width > this.widest[row]) this.widest[row] = width;
    }
    const taken = Math.min(printed[lot] + most, sums[lot]);
    printed[lot] = taken;
    if (taken > this.most) this.most = taken;
  }

  private ownRow(row: number): Uint8Array {
    const own = this.lots.ownRow(row);
    this.own[row] = own;
    return own;
  }
}
