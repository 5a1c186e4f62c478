/** Where things are set, and where they are used: variables, and the lines that jumps lead to. */
import {
  type DocumentHighlight,
  DocumentHighlightKind,
  type Range,
} from 'vscode-languageserver-types';
import type { Line, Span } from '../../../grammar/tree.js';
import { type LineTarget, lineNumberSpan, lineTargetAt, lineTargetsOf } from '../line-targets.js';
import { type Occurrence, occurrenceAt, occurrencesOf } from '../occurrences.js';
import type { Snapshot } from '../snapshot.js';

/** Where the variable at an offset is set, or the line that a jump at an offset leads to. */
export function definition(snapshot: Snapshot, offset: number): Range[] {
  return placesOf(snapshot, offset)
    .filter(({ sets }) => sets)
    .map((span) => snapshot.positions.rangeOf(span));
}

/** Every place of the variable at an offset, or everything that names the line at an offset. */
export function references(snapshot: Snapshot, offset: number, withDefinition = true): Range[] {
  return placesOf(snapshot, offset)
    .filter(({ sets }) => withDefinition || !sets)
    .map((span) => snapshot.positions.rangeOf(span));
}

/** The same places within the listing, told apart by whether they set or read. */
export function highlights(snapshot: Snapshot, offset: number): DocumentHighlight[] {
  return placesOf(snapshot, offset).map((span) => ({
    range: snapshot.positions.rangeOf(span),
    kind: span.sets ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
  }));
}

interface NamedPlace extends Span {
  readonly sets: boolean;
}

function placesOf(snapshot: Snapshot, offset: number): NamedPlace[] {
  const variable = occurrenceAt(snapshot, offset);
  if (variable !== undefined) {
    const all = occurrencesOf(snapshot).byName.get(variable.name)!;
    return all.map(({ start, end, role }: Occurrence) => ({ start, end, sets: role !== 'read' }));
  }
  const line = lineNamedAt(snapshot, offset);
  if (line === undefined) return [];
  const own = { ...lineNumberSpan(snapshot, line), sets: true };
  const targets = lineTargetsOf(snapshot)
    .filter((target) => target.line === line)
    .map(({ start, end }: LineTarget) => ({ start, end, sets: false }));
  return [own, ...targets].sort((a, b) => a.start - b.start);
}

/** The line whose number stands at an offset, or to which the jump there leads. */
export function lineNamedAt(snapshot: Snapshot, offset: number): Line | undefined {
  const target = lineTargetAt(snapshot, offset);
  if (target !== undefined) return target.line;
  const line = snapshot.lineAt(offset);
  if (line === undefined) return undefined;
  const own = lineNumberSpan(snapshot, line);
  return offset >= own.start && offset <= own.end ? line : undefined;
}
