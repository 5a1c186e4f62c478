/** What names a line of the listing by a number that the listing tells. */
import type { Line, Span } from '../../grammar/tree.js';
import { constantOf } from '../listing/constants.js';
import { NAMING_A_LINE } from '../listing/renumber.js';
import { firstIndex } from '../listing/search.js';
import { onceFor, type Snapshot } from './snapshot.js';

export interface LineTarget extends Span {
  readonly number: number;
  /** The line that it leads to: its own, or the next one that there is. Undefined past the last. */
  readonly line?: Line;
  /** The command that names it, or `.start`. */
  readonly word: string;
}

/** All of them, in the order of the text. */
export const lineTargetsOf: (snapshot: Snapshot) => readonly LineTarget[] = onceFor(collect);

function collect({ listing, text, names }: Snapshot): LineTarget[] {
  const targets: LineTarget[] = [];
  const add = (word: string, number: number, { start, end }: Span): void => {
    targets.push({ word, number, start, end, line: lineFrom(listing.lines, number) });
  };
  for (const item of listing.items) {
    if (item.kind !== 'start') continue;
    const digits = /\d+/.exec(text.slice(item.start, item.end))!;
    const start = item.start + digits.index;
    add('.start', item.line, { start, end: start + digits[0].length });
  }
  for (const { statement } of names.steps) {
    if (statement === undefined || !NAMING_A_LINE.has(statement.kind) || !('args' in statement)) {
      continue;
    }
    const [argument] = statement.args;
    const number = argument && constantOf(argument);
    if (number !== undefined && number >= 0) add(statement.kind, Math.round(number), argument);
  }
  return targets.sort((a, b) => a.start - b.start);
}

/** What names a line at an offset, or ends right there. */
export const lineTargetAt = (snapshot: Snapshot, offset: number): LineTarget | undefined =>
  lineTargetsOf(snapshot).find(({ start, end }) => start <= offset && offset <= end);

/** The line with this number, or the next one, as the machine finds it. */
export function lineFrom(lines: readonly Line[], number: number): Line | undefined {
  return lines[firstIndex(lines.length, (index) => lines[index].number >= number)];
}

/** Where a line's own number stands. */
export function lineNumberSpan({ text }: Snapshot, { start, end }: Line): Span {
  const digits = /^\d*/.exec(text.slice(start, end))![0];
  return { start, end: start + digits.length };
}
