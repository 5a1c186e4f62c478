/** What changed between two texts of one listing, row by row, in time linear in both. */
import { diffArrays, formatPatch } from 'diff';

/** Rows of the one text that became rows of the other: indices, `end` not included. */
export interface Change {
  readonly before: Rows;
  readonly after: Rows;
}

interface Rows {
  readonly start: number;
  readonly end: number;
}

/** The rows of a text, each with the newline that ends it. */
export const rowsOf = (text: string): string[] => text.match(/[^\n]*\n|[^\n]+$/g) ?? [];

/**
 * The changes from some rows to others, in order. The numbers of lines tell what is held against
 * what: looked at closely is only what lies between numbers whose rows are the same.
 */
export function changesBetween(before: readonly string[], after: readonly string[]): Change[] {
  const changes: Change[] = [];
  let open: Pair[] = [];
  const close = (): void => {
    if (open.length > 0) changes.push(...(closely(before, after, stretchOf(open)) ?? apart(open)));
    open = [];
  };
  const apart = (pairs: readonly Pair[]): Change[] =>
    pairs.flatMap((pair) => closely(before, after, pair) ?? [pair]);
  for (const pair of pairsOf(piecesOf(before), piecesOf(after))) {
    if (isSame(before, after, pair)) close();
    else open.push(pair);
  }
  close();
  return changes;
}

/** A unified diff without context, or '' where nothing changed. */
export function patchOf(name: string, before: string, after: string): string {
  const rows = [rowsOf(before), rowsOf(after)] as const;
  const hunks: Hunk[] = [];
  for (const change of changesBetween(...rows)) {
    const lines = [
      ...hunkRows('-', rows[0].slice(change.before.start, change.before.end)),
      ...hunkRows('+', rows[1].slice(change.after.start, change.after.end)),
    ];
    const oldLines = change.before.end - change.before.start;
    const newLines = change.after.end - change.after.start;
    const last = hunks.at(-1);
    if (last !== undefined && last.oldStart + last.oldLines === change.before.start + 1) {
      last.oldLines += oldLines;
      last.newLines += newLines;
      last.lines.push(...lines);
    } else {
      const [oldStart, newStart] = [change.before.start + 1, change.after.start + 1];
      hunks.push({ oldStart, oldLines, newStart, newLines, lines });
    }
  }
  if (hunks.length === 0) return '';
  return formatPatch({
    oldFileName: name,
    newFileName: name,
    oldHeader: 'before',
    newHeader: 'after',
    hunks,
    index: undefined,
  });
}

interface Hunk {
  oldStart: number;
  oldLines: number;
  newStart: number;
  newLines: number;
  lines: string[];
}

const hunkRows = (sign: string, rows: readonly string[]): string[] =>
  rows.flatMap((row) =>
    row.endsWith('\n') ? [sign + row.slice(0, -1)] : [sign + row, '\\ No newline at end of file'],
  );

/** Rows up to that of a line with a higher number than all before it, and what stands before it. */
interface Piece extends Rows {
  readonly number: number;
}

function piecesOf(rows: readonly string[]): Piece[] {
  const pieces: Piece[] = [];
  let [start, last] = [0, -1];
  for (let at = 0; at < rows.length; at++) {
    const number = Number(/^\s*(\d+)/.exec(rows[at])?.[1] ?? -1);
    if (number <= last) continue;
    pieces.push({ start, end: at + 1, number });
    [start, last] = [at + 1, number];
  }
  pieces.push({ start, end: rows.length, number: Number.POSITIVE_INFINITY });
  return pieces;
}

type Pair = Change;

/** Pieces of the same number side by side; one that the other text is without stands alone. */
function pairsOf(before: readonly Piece[], after: readonly Piece[]): Pair[] {
  const pairs: Pair[] = [];
  let [a, b] = [0, 0];
  while (a < before.length && b < after.length) {
    const [one, other] = [before[a], after[b]];
    const takes = [one.number <= other.number, other.number <= one.number];
    pairs.push({
      before: takes[0] ? one : { start: one.start, end: one.start },
      after: takes[1] ? other : { start: other.start, end: other.start },
    });
    a += Number(takes[0]);
    b += Number(takes[1]);
  }
  return pairs;
}

function isSame(before: readonly string[], after: readonly string[], pair: Pair): boolean {
  const rows = pair.before.end - pair.before.start;
  if (pair.after.end - pair.after.start !== rows) return false;
  for (let at = 0; at < rows; at++) {
    if (before[pair.before.start + at] !== after[pair.after.start + at]) return false;
  }
  return true;
}

const stretchOf = (pairs: readonly Pair[]): Pair => ({
  before: { start: pairs[0].before.start, end: pairs.at(-1)!.before.end },
  after: { start: pairs[0].after.start, end: pairs.at(-1)!.after.end },
});

/** Most rows that change in a stretch that is looked at as a whole: the work is their square. */
const MOST_CHANGED = 100;

/** The changes within a stretch, or undefined where they are too many to find the fewest. */
function closely(
  before: readonly string[],
  after: readonly string[],
  stretch: Pair,
): Change[] | undefined {
  const parts = diffArrays(
    before.slice(stretch.before.start, stretch.before.end),
    after.slice(stretch.after.start, stretch.after.end),
    { maxEditLength: MOST_CHANGED },
  );
  if (parts === undefined) return undefined;
  const changes: Change[] = [];
  let [a, b] = [stretch.before.start, stretch.after.start];
  let start = [a, b];
  const close = (): void => {
    if (a > start[0] || b > start[1]) {
      changes.push({ before: { start: start[0], end: a }, after: { start: start[1], end: b } });
    }
  };
  for (const { count, added, removed } of parts) {
    if (added) b += count;
    else if (removed) a += count;
    else {
      close();
      a += count;
      b += count;
      start = [a, b];
    }
  }
  close();
  return changes;
}
