/** What names a line of the listing by a number that the listing tells. */
import type { Expression, Line, Span, Statement } from '../../grammar/tree.js';
import { constantOf } from '../listing/constants.js';
import type { Snapshot } from './snapshot.js';

export interface LineTarget extends Span {
  readonly number: number;
  /** The line that it leads to: its own, or the next one that there is. Undefined past the last. */
  readonly line?: Line;
  /** The command that names it, or `.start`. */
  readonly word: string;
}

const NAMING = new Set<Statement['kind']>(['GOTO', 'GOSUB', 'RUN', 'LIST', 'LLIST']);

const known = new WeakMap<Snapshot, readonly LineTarget[]>();

/** All of them, in the order of the text; worked out once for a snapshot. */
export function lineTargetsOf(snapshot: Snapshot): readonly LineTarget[] {
  let found = known.get(snapshot);
  if (found === undefined) {
    found = collect(snapshot);
    known.set(snapshot, found);
  }
  return found;
}

function collect({ listing, text }: Snapshot): LineTarget[] {
  const targets: LineTarget[] = [];
  const add = (word: string, number: number, { start, end }: Span): void => {
    targets.push({ word, number, start, end, line: lineFrom(listing.lines, number) });
  };
  for (const item of listing.items) {
    if (item.kind === 'start') {
      const digits = /\d+/.exec(text.slice(item.start, item.end))!;
      const start = item.start + digits.index;
      add('.start', item.line, { start, end: start + digits[0].length });
    } else if (item.kind === 'line') {
      const statement = innermost(item.statement);
      if (statement === undefined || !NAMING.has(statement.kind) || !('args' in statement))
        continue;
      const [argument] = statement.args as readonly Expression[];
      const number = argument && constantOf(argument);
      if (number !== undefined && number >= 0) add(statement.kind, Math.round(number), argument);
    }
  }
  return targets;
}

function innermost(statement: Statement | undefined): Statement | undefined {
  let inner = statement;
  while (inner?.kind === 'IF') inner = inner.then;
  return inner;
}

/** The line with this number, or the next one, as the machine finds it. */
export function lineFrom(lines: readonly Line[], number: number): Line | undefined {
  let low = 0;
  let high = lines.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lines[middle].number < number) low = middle + 1;
    else high = middle;
  }
  return lines[low];
}

/** Where a line's own number stands. */
export function lineNumberSpan({ text }: Snapshot, { start, end }: Line): Span {
  const digits = /^\d*/.exec(text.slice(start, end))![0];
  return { start, end: start + digits.length };
}
