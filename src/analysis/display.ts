/**
 * Where each PRINT and PLOT stands on the display, and how wide that can make each row. Below 3¼K
 * a row is stored only as far as it was printed (the manual, chapter 27), and a step to a column
 * fills the row up to it (common practice).
 */
import type { Expression, Line, PrintItem, Statement } from '../../grammar/tree.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../machine/memory-map.js';
import type { Flow } from './flow.js';
import type { LengthRange, NumberRange, Ranges } from './ranges.js';
import type { Step } from './steps.js';

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

const HOME: Cursor = { rowLow: 0, rowHigh: 0, columnLow: 0, columnHigh: 0 };
const ANYWHERE: Cursor = {
  rowLow: 0,
  rowHigh: LAST_PRINT_ROW,
  columnLow: 0,
  columnHigh: DISPLAY_COLUMNS,
};

/** Something that widens rows: at most to `widest`, and surely to `surely` where the row is known. */
export interface Growth {
  readonly step: Step;
  readonly rowLow: number;
  readonly rowHigh: number;
  readonly widest: number;
  readonly surely: number;
  /** Spaces that are certainly filled in, up to a column that AT, TAB, a comma or PLOT names. */
  readonly filled: number;
  readonly node?: PrintItem;
}

export interface DisplayUse {
  readonly growths: readonly Growth[];
  /** Where each line begins to print; undefined where it is not reached. */
  readonly before: readonly (Cursor | undefined)[];
  /** Prints that leave the display at the bottom, whatever the run does (report 5). */
  readonly overruns: readonly { step: Step; node?: PrintItem }[];
  readonly scrolls: boolean;
  /** Is it ever cleared, or listed on, so that what was printed need not stay? */
  readonly clears: boolean;
}

/** Follows the print position through the program. Takes time linear in its lines. */
export function displayUse(flow: Flow, ranges: Ranges): DisplayUse {
  return new DisplayFollower(flow, ranges).follow();
}

class DisplayFollower {
  private readonly before: (Cursor | undefined)[];
  private readonly visits: Uint8Array;
  private growths: Growth[] = [];
  private overruns: { step: Step; node?: PrintItem }[] = [];
  private recording = false;
  private readonly returnsTo: number[] = [];

  constructor(
    private readonly flow: Flow,
    private readonly ranges: Ranges,
  ) {
    this.before = flow.steps.map(() => undefined);
    this.visits = new Uint8Array(flow.length);
    for (const { index } of flow.steps) {
      if (flow.calls[index].length > 0 || flow.callsAnything[index]) this.returnsTo.push(index + 1);
    }
  }

  follow(): DisplayUse {
    const { flow } = this;
    if (flow.open) for (const step of flow.steps) this.before[step.index] = ANYWHERE;
    else this.settle();
    this.recording = true;
    for (const step of flow.steps) {
      const cursor = this.before[step.index];
      if (cursor !== undefined) this.after(step, cursor);
    }
    const has = (...kinds: Statement['kind'][]): boolean =>
      flow.steps.some(
        (step) =>
          this.before[step.index] !== undefined &&
          (step.statement === undefined || kinds.includes(step.statement.kind)),
      );
    return {
      growths: this.growths,
      before: this.before,
      overruns: this.overruns,
      scrolls: has('SCROLL'),
      clears: has('CLS', 'SCROLL', 'LIST', 'RUN', 'NEW', 'LOAD', 'unchecked'),
    };
  }

  private settle(): void {
    const { flow } = this;
    const waiting = new Set<number>();
    const arrive = (index: number, cursor: Cursor): void => {
      if (index >= flow.length) return;
      const known = this.before[index];
      const next = known === undefined ? cursor : this.join(index, known, cursor);
      if (known !== undefined && sameCursor(known, next)) return;
      this.before[index] = next;
      waiting.add(index);
    };
    let returned: Cursor | undefined;
    arrive(flow.entry, HOME);
    // A set gives its members in the order in which they came, those that come meanwhile too.
    for (const index of waiting) {
      waiting.delete(index);
      const step = flow.steps[index];
      const before = this.before[index]!;
      const after = this.after(step, before);
      const { statement } = step;
      if (statement?.kind === 'RETURN') {
        const joined: Cursor = returned === undefined ? after : joinCursors(returned, after);
        // Only what is new is carried behind every call.
        if (returned === undefined || !sameCursor(joined, returned)) {
          returned = joined;
          for (const to of this.returnsTo) {
            if (this.before[to - 1] !== undefined) arrive(to, joined);
          }
        }
      } else if (statement?.kind === 'GOSUB') {
        for (const to of flow.calls[index]) arrive(to, after);
        if (returned !== undefined) arrive(index + 1, returned);
        if (step.conditions.length === 0) continue;
      }
      for (const to of flow.next[index]) arrive(to, after);
    }
  }

  /** After a few visits what still moves is let go to the edge of the display. */
  private join(index: number, known: Cursor, cursor: Cursor): Cursor {
    const next = joinCursors(known, cursor);
    if (++this.visits[index] < 4) return next;
    this.visits[index] = 4;
    return {
      rowLow: next.rowLow < known.rowLow ? 0 : next.rowLow,
      rowHigh: next.rowHigh > known.rowHigh ? LAST_PRINT_ROW : next.rowHigh,
      columnLow: next.columnLow < known.columnLow ? 0 : next.columnLow,
      columnHigh: next.columnHigh > known.columnHigh ? DISPLAY_COLUMNS : next.columnHigh,
    };
  }

  /** The position after a line; where a condition stands before it, perhaps it printed nothing. */
  private after(step: Step, before: Cursor): Cursor {
    const { statement } = step;
    if (statement === undefined || statement.kind === 'unchecked') {
      this.grow(step, ANYWHERE, DISPLAY_COLUMNS, 0, 0);
      return ANYWHERE;
    }
    const after = this.run(step, statement, before);
    return step.conditions.length > 0 ? joinCursors(before, after) : after;
  }

  private run(step: Step, statement: NonNullable<Step['statement']>, before: Cursor): Cursor {
    switch (statement.kind) {
      case 'PRINT':
        return this.print(step, statement.items, before);
      case 'CLS':
        return HOME;
      case 'SCROLL':
        return { rowLow: LAST_PRINT_ROW, rowHigh: LAST_PRINT_ROW, columnLow: 0, columnHigh: 0 };
      case 'LIST':
        this.grow(step, ANYWHERE, DISPLAY_COLUMNS, 0, 0);
        return ANYWHERE;
      case 'PLOT':
      case 'UNPLOT':
        return this.plot(step, statement.args);
      default:
        return before;
    }
  }

  private print(step: Step, items: readonly PrintItem[], before: Cursor): Cursor {
    let cursor = before;
    for (const item of items) {
      if (item.kind === 'AT') cursor = this.moveTo(step, item, item.row, item.column);
      else if (item.kind === 'TAB') cursor = this.tab(step, item, cursor);
      else if (item.kind === 'separator') {
        if (item.text === ',') cursor = this.comma(step, item, cursor);
      } else cursor = this.write(step, item, cursor, this.lengthOf(item));
    }
    const last = items.at(-1);
    const stays = last?.kind === 'separator' || last?.kind === 'AT' || last?.kind === 'TAB';
    return stays ? cursor : newRow(this.within(step, last, cursor));
  }

  private lengthOf(node: Expression): LengthRange {
    return node.type === 'string'
      ? this.ranges.length(node)
      : this.ranges.lengthOfNumber(this.ranges.number(node));
  }

  private moveTo(
    step: Step,
    node: PrintItem | undefined,
    row: Expression,
    column: Expression,
  ): Cursor {
    const rows = this.ranges.number(row);
    const columns = this.ranges.number(column);
    if (rows.low > LAST_PRINT_ROW) this.overrun(step, node);
    const cursor = {
      ...bounded(rows, LAST_PRINT_ROW, 'row'),
      ...bounded(columns, DISPLAY_COLUMNS - 1, 'column'),
    } as Cursor;
    this.grow(step, cursor, cursor.columnHigh, 0, cursor.columnLow, node);
    return cursor;
  }

  private tab(step: Step, node: PrintItem & { kind: 'TAB' }, before: Cursor): Cursor {
    const found = this.ranges.number(node.column);
    const value = found.low === found.high ? Math.round(found.low) % DISPLAY_COLUMNS : undefined;
    const columns =
      value === undefined
        ? { columnLow: 0, columnHigh: DISPLAY_COLUMNS - 1 }
        : { columnLow: value, columnHigh: value };
    const cursor = {
      rowLow: before.rowLow + (before.columnLow > columns.columnHigh ? 1 : 0),
      rowHigh: before.rowHigh + (before.columnHigh > columns.columnLow ? 1 : 0),
      ...columns,
    };
    return this.filled(step, node, before, cursor);
  }

  private comma(step: Step, node: PrintItem, before: Cursor): Cursor {
    const wraps = (column: number): boolean => column >= COMMA_COLUMN;
    const low = wraps(before.columnLow);
    const high = wraps(before.columnHigh);
    const cursor = {
      rowLow: before.rowLow + (low ? 1 : 0),
      rowHigh: before.rowHigh + (high ? 1 : 0),
      columnLow: high ? 0 : COMMA_COLUMN,
      columnHigh: low ? 0 : COMMA_COLUMN,
    };
    return this.filled(step, node, before, cursor);
  }

  /** The rows passed are filled with spaces: the first to its end if another is come to. */
  private filled(step: Step, node: PrintItem, before: Cursor, cursor: Cursor): Cursor {
    const wraps = cursor.rowHigh > before.rowLow;
    const width = wraps ? DISPLAY_COLUMNS : cursor.columnHigh;
    this.grow(
      step,
      { ...before, rowHigh: wraps ? Math.max(before.rowLow, cursor.rowHigh - 1) : cursor.rowHigh },
      Math.max(width, cursor.columnHigh),
      cursor.rowLow === before.rowLow ? cursor.columnLow : before.columnLow,
      Math.max(0, cursor.rowLow === before.rowHigh ? cursor.columnLow - before.columnHigh : 0),
      node,
    );
    return this.within(step, node, cursor);
  }

  private write(step: Step, node: PrintItem, from: Cursor, length: LengthRange): Cursor {
    if (length.high === 0) return from;
    const before = length.low > 0 ? this.within(step, node, from) : from;
    const most = Math.min(length.high, DISPLAY_ROWS * DISPLAY_COLUMNS);
    const end = before.columnHigh + most;
    if (end <= DISPLAY_COLUMNS) {
      this.grow(step, before, end, before.columnLow + length.low, 0, node);
      return {
        ...before,
        columnLow: before.columnLow + length.low,
        columnHigh: end,
      };
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
    if (exact && before.rowLow === before.rowHigh) this.growExactly(step, before, end, node);
    else {
      const rows = { ...before, rowHigh: after.rowHigh };
      this.grow(step, rows, DISPLAY_COLUMNS, 0, 0, node);
    }
    return this.within(step, node, after);
  }

  /** A text of known length from a known place on: full rows, then a part of one. */
  private growExactly(step: Step, before: Cursor, end: number, node: PrintItem): void {
    for (let row = before.rowLow, rest = end; rest > 0; row++, rest -= DISPLAY_COLUMNS) {
      const width = Math.min(rest, DISPLAY_COLUMNS);
      this.grow(step, { ...before, rowLow: row, rowHigh: row }, width, width, 0, node);
    }
  }

  private plot(step: Step, args: readonly Expression[]): Cursor {
    const x = this.ranges.number(args[0]);
    const y = this.ranges.number(args[1]);
    const cell = (value: number, most: number): number =>
      Math.min(most, Math.max(0, Math.floor(Math.round(value) / 2)));
    const cursor = {
      rowLow: LAST_PRINT_ROW - cell(y.high, LAST_PRINT_ROW),
      rowHigh: LAST_PRINT_ROW - cell(y.low, LAST_PRINT_ROW),
      columnLow: cell(x.low, DISPLAY_COLUMNS - 1) + 1,
      columnHigh: cell(x.high, DISPLAY_COLUMNS - 1) + 1,
    };
    this.grow(step, cursor, cursor.columnHigh, cursor.columnLow, cursor.columnLow - 1);
    return cursor;
  }

  private grow(
    step: Step,
    rows: Cursor,
    widest: number,
    surely: number,
    filled: number,
    node?: PrintItem,
  ): void {
    if (!this.recording) return;
    const rowLow = Math.min(rows.rowLow, LAST_PRINT_ROW);
    const rowHigh = Math.min(rows.rowHigh, LAST_PRINT_ROW);
    this.growths.push({
      step,
      rowLow,
      rowHigh,
      widest: Math.min(widest, DISPLAY_COLUMNS),
      surely: Math.min(surely, DISPLAY_COLUMNS),
      filled,
      node,
    });
  }

  /** The machine stops with report 5 below row 21: what goes on has not left the display. */
  private within(step: Step, node: PrintItem | undefined, cursor: Cursor): Cursor {
    if (cursor.rowLow > LAST_PRINT_ROW) {
      this.overrun(step, node);
      return ANYWHERE;
    }
    return cursor.rowHigh > LAST_PRINT_ROW ? { ...cursor, rowHigh: LAST_PRINT_ROW } : cursor;
  }

  private overrun(step: Step, node: PrintItem | undefined): void {
    if (!this.recording || this.overruns.at(-1)?.step === step) return;
    this.overruns.push({ step, node });
  }
}

function bounded(found: NumberRange, most: number, name: 'row' | 'column'): object {
  const clamp = (value: number): number => Math.min(most, Math.max(0, Math.round(value)));
  return { [`${name}Low`]: clamp(found.low), [`${name}High`]: clamp(found.high) };
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

function joinCursors(a: Cursor, b: Cursor): Cursor {
  return {
    rowLow: Math.min(a.rowLow, b.rowLow),
    rowHigh: Math.max(a.rowHigh, b.rowHigh),
    columnLow: Math.min(a.columnLow, b.columnLow),
    columnHigh: Math.max(a.columnHigh, b.columnHigh),
  };
}

function sameCursor(a: Cursor, b: Cursor): boolean {
  return (
    a.rowLow === b.rowLow &&
    a.rowHigh === b.rowHigh &&
    a.columnLow === b.columnLow &&
    a.columnHigh === b.columnHigh
  );
}

/** What a row can be widened to, and by which line. */
export interface RowWidth {
  readonly width: number;
  readonly line?: Line;
}

/** For each row that PRINT takes the widest that it can become. */
export function widestRows(use: DisplayUse): RowWidth[] {
  const rows: RowWidth[] = Array.from({ length: LAST_PRINT_ROW + 1 }, () => ({ width: 0 }));
  for (const { rowLow, rowHigh, widest, step } of use.growths) {
    for (let row = rowLow; row <= rowHigh; row++) {
      if (widest > rows[row].width) rows[row] = { width: widest, line: step.line };
    }
  }
  if (!use.scrolls) return rows;
  // SCROLL moves rows up, so that each can become as wide as any below it.
  for (let row = LAST_PRINT_ROW - 1; row >= 0; row--) {
    if (rows[row + 1].width > rows[row].width) rows[row] = rows[row + 1];
  }
  return rows;
}

/** For each row the width that it surely gets, from the lines that every run comes to. */
export function sureRows(use: DisplayUse, sure: readonly boolean[]): number[] {
  const rows = new Array<number>(LAST_PRINT_ROW + 1).fill(0);
  if (use.clears) return rows;
  for (const { rowLow, rowHigh, surely, step } of use.growths) {
    if (rowLow !== rowHigh || !sure[step.index] || step.conditions.length > 0) continue;
    rows[rowLow] = Math.max(rows[rowLow], surely);
  }
  return rows;
}
