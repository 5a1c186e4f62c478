/** The tidy form of a listing, or of the lines in a range; new numbers for all its lines. */
import type { Range, TextEdit } from 'vscode-languageserver-types';
import type { Diagnostic } from '../../listing/diagnostics.js';
import { formatListing } from '../../listing/format.js';
import { statementText } from '../../listing/print.js';
import { type RenumberOptions, renumber } from '../../listing/renumber.js';
import type { Snapshot } from '../snapshot.js';
import { editsBetween, textEdit } from '../text-edits.js';

/** The edits that make a listing tidy; none while it has errors. */
export function format(snapshot: Snapshot): TextEdit[] {
  if (snapshot.broken) return [];
  return editsBetween(snapshot, formatListing(snapshot));
}

/** The edits that make the program lines of a range tidy, each where it stands. */
export function formatRange(snapshot: Snapshot, range: Range): TextEdit[] {
  const { start, end } = snapshot.positions.spanOf(range);
  const edits: TextEdit[] = [];
  for (const line of snapshot.listing.lines) {
    if (line.end < start || line.start > end || line.statement === undefined) continue;
    const text = snapshot.text.slice(line.start, line.end);
    // What is written with brackets is written so with care.
    if (text.includes('[')) continue;
    const tidy = `${line.number} ${statementText(line.codes)}`;
    if (tidy !== text)
      edits.push(textEdit(snapshot, { start: line.start, end: line.end, text: tidy }));
  }
  return edits;
}

export interface Renumbering {
  readonly edits: TextEdit[];
  /** What could not be followed: with an error there are no edits. */
  readonly diagnostics: readonly Diagnostic[];
}

export function renumberAll(snapshot: Snapshot, options: RenumberOptions = {}): Renumbering {
  const { edits, diagnostics } = renumber(snapshot, options);
  return { edits: edits.map((edit) => textEdit(snapshot, edit)), diagnostics };
}
