/**
 * Where each PRINT and PLOT stands on the display, and how wide that can make each row. Below 3¼K
 * a row is stored only as far as it was printed (the manual, chapter 27), and a step to a column
 * fills the row up to it (common practice).
 */
import type { Line, PrintItem, Statement } from '../../grammar/tree.js';
import { DISPLAY_COLUMNS } from '../machine/memory-map.js';
import type { Flow } from './flow.js';
import {
  ANYWHERE,
  type Cursor,
  HOME,
  joinCursors,
  LAST_PRINT_ROW,
  Printing,
  type RowGrowth,
  sameCursor,
  widenedCursor,
} from './printing.js';
import type { Ranges } from './ranges.js';
import type { Step } from './steps.js';
import { upward, Worklist } from './worklist.js';

/** Something that widens rows: at most to `widest`, and surely to `surely` where the row is known. */
export interface Growth extends RowGrowth {
  readonly step: Step;
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
export function displayUse(flow: Flow, ranges: Ranges, longest: number): DisplayUse {
  return new DisplayFollower(flow, ranges, longest).follow();
}

/** A listing on the display: it may fill it. */
const ANY_GROWTH: RowGrowth = {
  ...ANYWHERE,
  widest: DISPLAY_COLUMNS,
  surely: 0,
  filled: 0,
  most: Infinity,
};

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
    private readonly longest: number,
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
    const waiting = new Worklist<number>(upward);
    const arrive = (index: number, cursor: Cursor): void => {
      if (index >= flow.length) return;
      const known = this.before[index];
      const next = known === undefined ? cursor : this.join(index, known, cursor);
      if (known !== undefined && sameCursor(known, next)) return;
      this.before[index] = next;
      waiting.put(index);
    };
    let returned: Cursor | undefined;
    arrive(flow.entry, HOME);
    for (const index of waiting) {
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
    return widenedCursor(known, next);
  }

  /** The position after a line; where a condition stands before it, perhaps it printed nothing. */
  private after(step: Step, before: Cursor): Cursor {
    const { statement } = step;
    if (statement === undefined || statement.kind === 'unchecked') {
      this.grow(step, ANY_GROWTH);
      return ANYWHERE;
    }
    const after = this.run(step, statement, before);
    return step.conditions.length > 0 ? joinCursors(before, after) : after;
  }

  private run(step: Step, statement: NonNullable<Step['statement']>, before: Cursor): Cursor {
    switch (statement.kind) {
      case 'PRINT':
        return this.printing(step).print(statement.items, before);
      case 'CLS':
        return HOME;
      case 'SCROLL':
        return { rowLow: LAST_PRINT_ROW, rowHigh: LAST_PRINT_ROW, columnLow: 0, columnHigh: 0 };
      case 'LIST':
        this.grow(step, ANY_GROWTH);
        return ANYWHERE;
      case 'PLOT':
      case 'UNPLOT':
        return this.printing(step).plot(statement.args);
      default:
        return before;
    }
  }

  private printing(step: Step): Printing {
    return new Printing(
      this.ranges,
      this.longest,
      (growth, node) => this.grow(step, growth, node),
      (node) => this.overrun(step, node),
    );
  }

  private grow(step: Step, growth: RowGrowth, node?: PrintItem): void {
    if (!this.recording) return;
    this.growths.push({
      step,
      node,
      rowLow: Math.min(growth.rowLow, LAST_PRINT_ROW),
      rowHigh: Math.min(growth.rowHigh, LAST_PRINT_ROW),
      widest: Math.min(growth.widest, DISPLAY_COLUMNS),
      surely: Math.min(growth.surely, DISPLAY_COLUMNS),
      filled: growth.filled,
      most: growth.most,
    });
  }

  private overrun(step: Step, node: PrintItem | undefined): void {
    if (!this.recording || this.overruns.at(-1)?.step === step) return;
    this.overruns.push({ step, node });
  }
}

/** What a row can be widened to, and by which line. */
export interface RowWidth {
  readonly width: number;
  readonly line?: Line;
}

/** For each row that PRINT takes the widest that it can become. */
export function widestRows(use: DisplayUse): RowWidth[] {
  const rows: RowWidth[] = Array.from({ length: LAST_PRINT_ROW + 1 }, () => ({ width: 0 }));
  /** The widest for each pair of rows so far: what is no wider than one before of the same rows adds nothing. */
  const widestOf = new Uint8Array(rows.length ** 2);
  for (const { rowLow, rowHigh, widest, step } of use.growths) {
    const pair = rowLow * rows.length + rowHigh;
    if (widest <= widestOf[pair]) continue;
    widestOf[pair] = widest;
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
