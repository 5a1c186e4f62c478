/** What can be folded away, and how a selection grows. */
import {
  type FoldingRange,
  FoldingRangeKind,
  type Position,
  type SelectionRange,
} from 'vscode-languageserver-types';
import type { Span } from '../../../grammar/tree.js';
import { occurrenceAt } from '../occurrences.js';
import type { Snapshot } from '../snapshot.js';
import { partsOf } from './outline.js';

/** Loops from FOR to NEXT, subroutines, runs of comments, saved displays, long bytes of a REM. */
export function folding(snapshot: Snapshot): FoldingRange[] {
  const { listing, positions, program } = snapshot;
  const ranges: FoldingRange[] = [];
  const add = ({ start, end }: Span, kind?: FoldingRangeKind): void => {
    const startLine = positions.lineOf(start);
    const endLine = positions.lineOf(end);
    if (endLine > startLine) ranges.push({ startLine, endLine, kind });
  };
  for (const { start, end } of program.flow.loops) {
    if (end !== undefined) add({ start: start.line.start, end: end.line.end });
  }
  for (const { first, last, subroutine } of partsOf(snapshot)) {
    if (subroutine) add({ start: first.start, end: last.end });
  }
  let comments: Span | undefined;
  for (const item of listing.items) {
    if (item.kind === 'comment') {
      comments = { start: comments?.start ?? item.start, end: item.end };
      continue;
    }
    if (comments !== undefined) add(comments, FoldingRangeKind.Comment);
    comments = undefined;
    add(item);
  }
  if (comments !== undefined) add(comments, FoldingRangeKind.Comment);
  return ranges;
}

/** From the smallest part of a statement that holds a place out to the whole listing. */
export function selectionRanges(snapshot: Snapshot, places: readonly Position[]): SelectionRange[] {
  return places.map((place) => {
    const offset = snapshot.positions.offsetAt(place);
    const spans: Span[] = [{ start: 0, end: snapshot.text.length }];
    const part = partsOf(snapshot).find(({ first, last }) =>
      holds({ start: first.start, end: last.end }, offset),
    );
    if (part !== undefined) spans.push({ start: part.first.start, end: part.last.end });
    const item = snapshot.itemAt(offset);
    if (item !== undefined) spans.push(item);
    if (item?.kind === 'line' && item.statement !== undefined) {
      // Every expression stands before its parts, so that these spans only shrink.
      const uses = snapshot.program.uses.filter(({ step }) => step.line === item);
      const nodes: Span[] = [item.statement, ...uses.map(({ node }) => node)];
      for (const node of nodes)
        if (holds(node, offset) && holds(spans.at(-1)!, node.start, node.end)) spans.push(node);
    }
    // A name that is set is no expression of its own.
    const name = occurrenceAt(snapshot, offset);
    if (name !== undefined) spans.push(name);
    let range: SelectionRange | undefined;
    let last: Span | undefined;
    for (const span of spans) {
      if (last !== undefined && last.start === span.start && last.end === span.end) continue;
      last = span;
      range = { range: snapshot.positions.rangeOf(span), parent: range };
    }
    return range!;
  });
}

const holds = ({ start, end }: Span, from: number, to = from): boolean =>
  start <= from && to <= end;
