/**
 * What is known of the machine at one point of its course: what each variable can hold and how many
 * bytes it takes, how wide each row of the display is, where printing goes on.
 */
import { DISPLAY_COLUMNS } from '../../machine/memory-map.js';
import { compared } from '../comparison.js';
import {
  ANY_LENGTH,
  ANY_NUMBER,
  ExpressionRanges,
  joined,
  type LengthRange,
  type NumberRange,
} from '../expression-ranges.js';
import type { Name } from '../names.js';
import {
  type Cursor,
  HOME,
  joinCursors,
  LAST_PRINT_ROW,
  type RowGrowth,
  sameCursor,
  widenedCursor,
} from '../printing.js';
import type { Counting } from './counting.js';
import { joinLots } from './lots/join.js';
import type { Lots, Places } from './lots/lots.js';

/** What is known of one variable. Never changed, only replaced. */
export interface Held {
  /** The most bytes that it takes. */
  readonly size: number;
  /** Its value, or those of its elements. */
  readonly number?: NumberRange;
  readonly length?: LengthRange;
  /** Characters of an element, where it is an array of strings. */
  readonly element?: number;
  readonly counting?: Counting;
}

/** What cannot be followed; the message says why. */
export class Unfollowed extends Error {}

/** A copy shares what it holds with the first, until either changes it. */
export class State extends ExpressionRanges {
  private held: ReadonlyMap<Name, Held> = new Map();
  private ownsHeld = false;
  /** The most that each row is wide. */
  private widths: Uint8Array = new Uint8Array(LAST_PRINT_ROW + 1);
  private ownsWidths = true;
  /** The most bytes that all rows take together: less than their sum, where one was printed on and it is not known which. */
  printed = 0;
  /** What is told apart by the lots that RND draws; the rest of the state holds for them all together. */
  lots: Lots | undefined;
  private place: Cursor = HOME;
  /** What all variables take; undefined since one changed. */
  private total: number | undefined = 0;

  copy(): State {
    const copy = new State();
    this.ownsHeld = this.ownsWidths = copy.ownsWidths = false;
    copy.held = this.held;
    copy.widths = this.widths;
    copy.printed = this.printed;
    copy.place = this.place;
    copy.lots = this.lots?.copy();
    copy.total = this.total;
    return copy;
  }

  get variables(): ReadonlyMap<Name, Held> {
    return this.held;
  }

  get rows(): Readonly<Uint8Array> {
    return this.widths;
  }

  /** Where printing goes on: in all lots together. */
  get cursor(): Cursor {
    return this.place;
  }

  /** The same place for all lots. */
  set cursor(cursor: Cursor) {
    this.place = cursor;
    if (this.lots !== undefined) this.lots.places = undefined;
  }

  /** The lots are where they are told to be. */
  putCursors(cursor: Cursor, places: Places): void {
    this.place = cursor;
    this.lots!.places = places;
  }

  /** A variable is held from now on, alike in all lots. */
  hold(name: Name, held: Held): void {
    this.lots?.forget(name);
    this.keep(name, held);
  }

  /** What is known of a variable in all lots together. */
  keep(name: Name, held: Held): void {
    if (!this.ownsHeld) this.held = new Map(this.held);
    this.ownsHeld = true;
    (this.held as Map<Name, Held>).set(name, held);
    this.total = undefined;
  }

  clearVariables(): void {
    this.held = new Map();
    this.ownsHeld = true;
    this.total = 0;
    this.lots?.forgetAll();
  }

  /** Rows that may be changed. */
  private ownWidths(): Uint8Array {
    if (!this.ownsWidths) this.widths = this.widths.slice();
    this.ownsWidths = true;
    return this.widths;
  }

  // ───────────────────────────────── values ─────────────────────────────────

  named(name: Name): NumberRange {
    return this.variables.get(name)?.number ?? ANY_NUMBER;
  }

  lengthOf(name: Name): LengthRange {
    return this.variables.get(name)?.length ?? ANY_LENGTH;
  }

  elementLength(name: Name): number | undefined {
    return this.variables.get(name)?.element;
  }

  protected override compare(operator: string, a: NumberRange, b: NumberRange): NumberRange {
    return compared(operator, a, b);
  }

  // ───────────────────────────────── sizes ─────────────────────────────────

  get variablesSize(): number {
    if (this.total === undefined) {
      this.total = 0;
      for (const { size } of this.held.values()) this.total += size;
    }
    return this.total;
  }

  /** A row is widened, or one of several, it is not known which. */
  grow({ rowLow, rowHigh, widest, most }: RowGrowth): void {
    const width = Math.min(widest, DISPLAY_COLUMNS);
    for (let row = rowLow; row <= Math.min(rowHigh, LAST_PRINT_ROW); row++) {
      if (width > this.widths[row]) this.ownWidths()[row] = width;
    }
    const growth = Math.max(0, most);
    this.printed =
      this.lots?.display === undefined
        ? Math.min(this.printed + growth, this.sumOfRows())
        : this.lots.grow(rowLow, rowHigh, width, growth);
  }

  /** A row is so wide in some lot. */
  widen(row: number, width: number): void {
    if (width > this.widths[row]) this.ownWidths()[row] = width;
  }

  scroll(): void {
    const rows = this.ownWidths();
    rows.copyWithin(0, 1);
    rows[LAST_PRINT_ROW] = 0;
    this.printed =
      this.lots?.display === undefined
        ? Math.min(this.printed, this.sumOfRows())
        : this.lots.scroll();
    this.cursor = BOTTOM;
  }

  clearDisplay(): void {
    this.ownWidths().fill(0);
    this.printed = 0;
    this.cursor = HOME;
    if (this.lots !== undefined) this.lots.display = undefined;
  }

  /** Has the display of another state from now on. */
  takeDisplay({ widths, printed, cursor, lots }: State): void {
    this.widths = widths;
    this.ownsWidths = false;
    this.printed = printed;
    this.cursor = cursor;
    if (this.lots !== undefined && lots !== undefined) this.lots.takeDisplay(lots);
    else this.lots = undefined;
  }

  private sumOfRows(): number {
    let sum = 0;
    for (const width of this.widths) sum += width;
    return sum;
  }

  // ───────────────────────────────── meeting ─────────────────────────────────

  /**
   * Takes in what another way brings to the same point. With `widen`, what still moves is let go.
   * Was anything new?
   */
  join(other: State, widen: boolean): boolean {
    let changed = widen ? this.forgetLots() : joinLots(this, other);
    if (this.held !== other.held && this.joinVariables(other, widen)) changed = true;
    for (let row = 0; row < this.widths.length; row++) {
      if (other.widths[row] <= this.widths[row]) continue;
      this.ownWidths()[row] = widen ? DISPLAY_COLUMNS : other.widths[row];
      changed = true;
    }
    if (other.printed > this.printed) {
      this.printed = widen ? this.sumOfRows() : other.printed;
      changed = true;
    }
    const cursor = joinCursors(this.cursor, other.cursor);
    if (!sameCursor(cursor, this.cursor)) {
      this.place = widen ? widenedCursor(this.cursor, cursor) : cursor;
      changed = true;
    }
    return changed;
  }

  /** From now on the lots are not told apart. Were they? */
  forgetLots(): boolean {
    const were = this.lots !== undefined;
    this.lots = undefined;
    return were;
  }

  /** RND is worked out so many times; Infinity where that is not known. */
  draw(times: number): void {
    if (times === Infinity) this.forgetLots();
    else this.lots?.draw(times);
  }

  /** The state of some of its lots, and of what holds for these together; undefined for none. */
  only(alive: Uint16Array): State | undefined {
    if (alive.length === 0) return undefined;
    const some = this.copy();
    if (alive.length === this.lots!.alive.length) return some;
    const lots = some.lots!;
    lots.alive = alive;
    for (const [name, values] of lots.values) {
      const held = this.held.get(name);
      if (held === undefined) continue;
      const { low, high, whole } = lots.rangeOf(values);
      if (held.number === undefined) some.keep(name, { ...held, length: { low, high } });
      else some.keep(name, { ...held, number: { ...held.number, low, high, whole } });
    }
    for (const [name, values] of lots.limits) {
      const held = some.held.get(name);
      if (held?.counting === undefined) continue;
      const limit = { ...held.counting.limit, ...lots.rangeOf(values) };
      some.keep(name, { ...held, counting: { ...held.counting, limit } });
    }
    if (lots.display !== undefined) some.printed = lots.mostPrinted;
    return some;
  }

  private joinVariables(other: State, widen: boolean): boolean {
    let changed = false;
    for (const [name, theirs] of other.held) {
      const mine = this.held.get(name);
      const both = mine === undefined ? theirs : joinHeld(mine, theirs, widen);
      if (both === mine) continue;
      this.keep(name, both);
      changed = true;
    }
    return changed;
  }
}

/** Where SCROLL leaves the place of printing. */
const BOTTOM: Cursor = {
  rowLow: LAST_PRINT_ROW,
  rowHigh: LAST_PRINT_ROW,
  columnLow: 0,
  columnHigh: 0,
};

/** The first again where the second brings nothing new. */
function joinHeld(mine: Held, theirs: Held, widen: boolean): Held {
  if (mine === theirs) return mine;
  if (mine.element !== theirs.element)
    throw new Unfollowed('a string is plain on one way and an array on another');
  const number = joinNumbers(mine.number, theirs.number, widen);
  const length = joinLengths(mine.length, theirs.length, widen);
  const counting = joinCounting(mine.counting, theirs.counting, widen);
  const grown = theirs.size > mine.size;
  if (!grown && number === mine.number && length === mine.length && counting === mine.counting) {
    return mine;
  }
  const size = !grown ? mine.size : widen ? Infinity : theirs.size;
  return { size, number, length, element: mine.element, counting };
}

function joinNumbers(
  a: NumberRange | undefined,
  b: NumberRange | undefined,
  widen: boolean,
): NumberRange | undefined {
  if (a === undefined || b === undefined || a === b) return a ?? b;
  const lower = b.low < a.low;
  const higher = b.high > a.high;
  if (!lower && !higher && (b.whole || !a.whole)) return a;
  const next = joined(a, b);
  if (!widen) return next;
  return {
    ...next,
    low: lower ? -Infinity : next.low,
    high: higher ? Infinity : next.high,
  };
}

function joinLengths(
  a: LengthRange | undefined,
  b: LengthRange | undefined,
  widen: boolean,
): LengthRange | undefined {
  if (a === undefined || b === undefined || a === b) return a ?? b;
  if (b.low >= a.low && b.high <= a.high) return a;
  const high = b.high > a.high && widen ? Infinity : Math.max(a.high, b.high);
  return { low: b.low < a.low && widen ? 0 : Math.min(a.low, b.low), high };
}

function joinCounting(
  a: Counting | undefined,
  b: Counting | undefined,
  widen: boolean,
): Counting | undefined {
  if (a === undefined || b === undefined || a === b) return a ?? b;
  const limit = joinNumbers(a.limit, b.limit, widen)!;
  const step = joinNumbers(a.step, b.step, widen)!;
  const more = b.bodies.filter((body) => !a.bodies.includes(body));
  if (limit === a.limit && step === a.step && more.length === 0) return a;
  return { limit, step, bodies: [...a.bodies, ...more] };
}
