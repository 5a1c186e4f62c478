/** A listing with the place that is asked about marked by ‸. */
import { Snapshot, type SnapshotOptions } from '../../src/editing/snapshot.js';

export const URI = 'file:///bench/lamp.bas';

export function at(
  marked: string,
  options?: SnapshotOptions,
): [snapshot: Snapshot, offset: number] {
  const offset = marked.indexOf('‸');
  if (offset < 0) throw new Error('no place is marked');
  return [new Snapshot(marked.replace('‸', ''), options), offset];
}

/** The text with edits of the protocol made. */
export function edited(
  snapshot: Snapshot,
  edits: readonly { range: Parameters<Snapshot['positions']['spanOf']>[0]; newText: string }[],
): string {
  const spans = edits.map(({ range, newText }) => ({
    ...snapshot.positions.spanOf(range),
    newText,
  }));
  let text = snapshot.text;
  for (const { start, end, newText } of spans.sort((a, b) => b.start - a.start)) {
    text = text.slice(0, start) + newText + text.slice(end);
  }
  return text;
}

/** What the ranges hold. */
export function textsOf(
  { positions, text }: Snapshot,
  ranges: readonly Parameters<Snapshot['positions']['spanOf']>[0][],
): string[] {
  return ranges.map((range) => {
    const { start, end } = positions.spanOf(range);
    return `${positions.lineOf(start) + 1}:${text.slice(start, end)}`;
  });
}
