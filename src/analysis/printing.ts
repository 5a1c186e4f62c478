/**
 * How PRINT and PLOT move the place of printing, and how wide that makes the rows, as far as the
 * ranges of their numbers and texts tell.
 */
import type { Expression, PrintItem } from '../../grammar/tree.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../machine/memory-map.js';
import type { ExpressionRanges, LengthRange, NumberRange } from './expression-ranges.js';
import { lengthOfNumber } from './number-length.js';
import { printedLength } from './printed-length.js';

/** The last row that PRINT takes; below it stand reports and what INPUT is given. */
export const LAST_PRINT_ROW = 21;
const COMMA_COLUMN = DISPLAY_COLUMNS / 2;

/** Where the next character goes; column 32 is the end of a full row. */
export interface Cursor {
  readonly rowLow: number;
  readonly rowHigh: number;
  readonly columnLow: number;
  readonly columnHigh: number;
}

export const HOME: Cursor = { rowLow: 0, rowHigh: 0, columnLow: 0, columnHigh: 0 };
export const ANYWHERE: Cursor = {
  rowLow: 0,
  rowHigh: LAST_PRINT_ROW,
  columnLow: 0,
  columnHigh: DISPLAY_COLUMNS,
};

/** What a printed item does to the rows between two. */
export interface RowGrowth {
  readonly rowLow: number;
  readonly rowHigh: number;
  readonly widest: number;
  /** How wide the row surely is, where it is known. */
  readonly surely: number;
  /** Spaces that are certainly filled in, up to a column that AT, TAB, a comma or PLOT names. */
  readonly filled: number;
  /** The most bytes that all rows together grow by. */
  readonly most: number;
}

/** Follows the items of one statement. */
export class Printing {
  /**
   * @param longest the most characters that one character of a string is shown as
   * @param grow told of everything that widens rows
   * @param overrun told of what leaves the display at the bottom, whatever the run does (report 5)
   * @param working told of each item that is about to be worked out
   */
  constructor(
    private readonly ranges: ExpressionRanges,
    private readonly longest: number,
    private readonly grow: (growth: RowGrowth, node?: PrintItem) => void,
    private readonly overrun: (node?: PrintItem) => void,
    private readonly working?: (item: PrintItem) => void,
  ) {}

  print(items: readonly PrintItem[], before: Cursor): Cursor {
    let cursor = before;
    for (const item of items) {
      if (item.kind !== 'separator') this.working?.(item);
      if (item.kind === 'AT') cursor = this.moveTo(item, item.row, item.column);
      else if (item.kind === 'TAB') cursor = this.tab(item, cursor);
      else if (item.kind === 'separator') {
        if (item.text === ',') cursor = this.comma(item, cursor);
      } else cursor = this.write(item, cursor, this.lengthOf(item));
    }
    const last = items.at(-1);
    const stays = last?.kind === 'separator' || last?.kind === 'AT' || last?.kind === 'TAB';
    return stays ? cursor : newRow(this.within(last, cursor));
  }

  private lengthOf(node: Expression): LengthRange {
    return node.type === 'string'
      ? printedLength(node, this.ranges, this.longest)
      : lengthOfNumber(this.ranges.number(node));
  }

  private moveTo(node: PrintItem | undefined, row: Expression, column: Expression): Cursor {
    const rows = this.ranges.number(row);
    const columns = this.ranges.number(column);
    if (rows.low > LAST_PRINT_ROW) this.overrun(node);
    const down = bounded(rows, LAST_PRINT_ROW);
    const { low, high } = bounded(columns, DISPLAY_COLUMNS - 1);
    const cursor = { rowLow: down.low, rowHigh: down.high, columnLow: low, columnHigh: high };
    this.grow(growthOf(cursor, high, 0, low, high), node);
    return cursor;
  }

  private tab(node: PrintItem & { kind: 'TAB' }, before: Cursor): Cursor {
    const found = rounded(this.ranges.number(node.column));
    const turns = Math.floor(found.low / DISPLAY_COLUMNS);
    // Columns are taken modulo 32: a range that passes such an edge can give any of them.
    const isOneTurn = found.low >= 0 && turns === Math.floor(found.high / DISPLAY_COLUMNS);
    const columnLow = isOneTurn ? found.low - turns * DISPLAY_COLUMNS : 0;
    const columnHigh = isOneTurn ? found.high - turns * DISPLAY_COLUMNS : DISPLAY_COLUMNS - 1;
    const surely = before.columnLow > columnHigh;
    const perhaps = before.columnHigh > columnLow;
    const cursor = {
      rowLow: before.rowLow + (surely ? 1 : 0),
      rowHigh: before.rowHigh + (perhaps ? 1 : 0),
      columnLow,
      columnHigh,
    };
    const from = perhaps ? cursorIn(cursor, 0, surely ? 0 : DISPLAY_COLUMNS) : before;
    return this.filled(node, from, cursor);
  }

  /** A space, and on to the middle of the row, or to its end, where the next character finds the next row. */
  private comma(node: PrintItem, before: Cursor): Cursor {
    const spaced = this.write(node, before, { low: 1, high: 1 });
    const { columnLow, columnHigh } = spaced;
    if (columnLow > COMMA_COLUMN) {
      return cursorIn(spaced, DISPLAY_COLUMNS, DISPLAY_COLUMNS);
    }
    const middle = cursorIn(spaced, COMMA_COLUMN, COMMA_COLUMN);
    if (columnHigh <= COMMA_COLUMN) return this.filled(node, spaced, middle);
    this.filled(node, cursorIn(spaced, columnLow, COMMA_COLUMN), middle);
    return cursorIn(middle, COMMA_COLUMN, DISPLAY_COLUMNS);
  }

  /** A row is filled with spaces from one column up to another. */
  private filled(node: PrintItem, before: Cursor, cursor: Cursor): Cursor {
    const { columnLow, columnHigh } = cursor;
    const filled = Math.max(0, columnLow - before.columnHigh);
    const most = columnHigh - before.columnLow;
    this.grow(growthOf(cursor, columnHigh, columnLow, filled, most), node);
    return this.within(node, cursor);
  }

  private write(node: PrintItem, from: Cursor, length: LengthRange): Cursor {
    if (length.high === 0) return from;
    const before = length.low > 0 ? this.within(node, onward(from)) : from;
    const most = Math.min(length.high, DISPLAY_ROWS * DISPLAY_COLUMNS);
    const end = before.columnHigh + most;
    if (end <= DISPLAY_COLUMNS) {
      const surely = before.columnLow + length.low;
      this.grow(growthOf(before, end, surely, 0, most), node);
      return cursorIn(before, surely, end);
    }
    const rowsLow = rowsPassed(before.columnLow + length.low);
    const rowsHigh = rowsPassed(end);
    const exact = before.columnLow === before.columnHigh && length.low === most;
    const after = {
      rowLow: before.rowLow + rowsLow,
      rowHigh: before.rowHigh + rowsHigh,
      columnLow: exact ? end - rowsHigh * DISPLAY_COLUMNS : rowsHigh > rowsLow ? 0 : 1,
      columnHigh: exact ? end - rowsHigh * DISPLAY_COLUMNS : DISPLAY_COLUMNS,
    };
    if (exact && before.rowLow === before.rowHigh) this.growExactly(before, end, node);
    else {
      const { rowLow } = before;
      const { rowHigh } = after;
      this.grow({ rowLow, rowHigh, widest: DISPLAY_COLUMNS, surely: 0, filled: 0, most }, node);
    }
    return this.within(node, after);
  }

  /** A text of known length from a known place on: full rows, then a part of one. */
  private growExactly(before: Cursor, end: number, node: PrintItem): void {
    for (let row = before.rowLow, rest = end; rest > 0; row++, rest -= DISPLAY_COLUMNS) {
      const width = Math.min(rest, DISPLAY_COLUMNS);
      this.grow(
        { rowLow: row, rowHigh: row, widest: width, surely: width, filled: 0, most: width },
        node,
      );
    }
  }

  plot(args: readonly Expression[]): Cursor {
    const x = rounded(this.ranges.number(args[0]));
    const y = rounded(this.ranges.number(args[1]));
    const cell = (value: number, most: number): number =>
      Math.min(most, Math.max(0, Math.floor(value / 2)));
    const cursor = {
      rowLow: LAST_PRINT_ROW - cell(y.high, LAST_PRINT_ROW),
      rowHigh: LAST_PRINT_ROW - cell(y.low, LAST_PRINT_ROW),
      columnLow: cell(x.low, DISPLAY_COLUMNS - 1) + 1,
      columnHigh: cell(x.high, DISPLAY_COLUMNS - 1) + 1,
    };
    const { columnLow, columnHigh } = cursor;
    this.grow(growthOf(cursor, columnHigh, columnLow, columnLow - 1, columnHigh));
    return cursor;
  }

  /** The machine stops with report 5 below row 21: what goes on has not left the display. */
  private within(node: PrintItem | undefined, cursor: Cursor): Cursor {
    if (cursor.rowLow > LAST_PRINT_ROW) {
      this.overrun(node);
      return ANYWHERE;
    }
    return cursor.rowHigh > LAST_PRINT_ROW ? { ...cursor, rowHigh: LAST_PRINT_ROW } : cursor;
  }
}

/** The whole numbers that those of a range are rounded to; AT and PLOT drop the sign. */
function rounded({ low, high }: NumberRange): { low: number; high: number } {
  const [least, most] = [Math.ceil(low - 0.5), Math.floor(high + 0.5)];
  if (least >= 0) return { low: least, high: most };
  return { low: most < 0 ? -most : 0, high: Math.max(-least, most) };
}

function bounded(found: NumberRange, most: number): { low: number; high: number } {
  const { low, high } = rounded(found);
  return { low: Math.min(most, low), high: Math.min(most, high) };
}

// Programs are followed through very many of both. They are written out: an object into which another
// is spread gets a shape of its own, so that the engine finds its way in none of them.

/** The rows of a cursor, widened. */
function growthOf(
  { rowLow, rowHigh }: Cursor,
  widest: number,
  surely: number,
  filled: number,
  most: number,
): RowGrowth {
  return { rowLow, rowHigh, widest, surely, filled, most };
}

/** The rows of a cursor, and other columns. */
function cursorIn({ rowLow, rowHigh }: Cursor, columnLow: number, columnHigh: number): Cursor {
  return { rowLow, rowHigh, columnLow, columnHigh };
}

/** The end of a row is the start of the next, for what is surely printed there. */
function onward(cursor: Cursor): Cursor {
  const { rowLow, rowHigh, columnLow } = cursor;
  if (columnLow < DISPLAY_COLUMNS) return cursor;
  return { rowLow: rowLow + 1, rowHigh: rowHigh + 1, columnLow: 0, columnHigh: 0 };
}

/** Full rows that are left behind when text ends at this column of an endless row. */
function rowsPassed(end: number): number {
  return end <= 0 ? 0 : Math.floor((end - 1) / DISPLAY_COLUMNS);
}

function newRow(cursor: Cursor): Cursor {
  // The row below the last one is kept, so that printing there is seen; further it cannot come.
  return {
    rowLow: Math.min(cursor.rowLow + 1, DISPLAY_ROWS),
    rowHigh: Math.min(cursor.rowHigh + 1, DISPLAY_ROWS),
    columnLow: 0,
    columnHigh: 0,
  };
}

export function joinCursors(a: Cursor, b: Cursor): Cursor {
  return {
    rowLow: Math.min(a.rowLow, b.rowLow),
    rowHigh: Math.max(a.rowHigh, b.rowHigh),
    columnLow: Math.min(a.columnLow, b.columnLow),
    columnHigh: Math.max(a.columnHigh, b.columnHigh),
  };
}

export function sameCursor(a: Cursor, b: Cursor): boolean {
  return (
    a.rowLow === b.rowLow &&
    a.rowHigh === b.rowHigh &&
    a.columnLow === b.columnLow &&
    a.columnHigh === b.columnHigh
  );
}

/** What still moves is let go to the edge of the display. */
export function widenedCursor(known: Cursor, next: Cursor): Cursor {
  return {
    rowLow: next.rowLow < known.rowLow ? 0 : next.rowLow,
    rowHigh: next.rowHigh > known.rowHigh ? LAST_PRINT_ROW : next.rowHigh,
    columnLow: next.columnLow < known.columnLow ? 0 : next.columnLow,
    columnHigh: next.columnHigh > known.columnHigh ? DISPLAY_COLUMNS : next.columnHigh,
  };
}
