/**
 * Repairs of a line that cannot be read: what the message offers, made, and kept only where the
 * line then reads without an error.
 */
import type { Span } from '../../grammar/tree.js';
import { type Diagnostic, hasErrors } from '../listing/diagnostics.js';
import { nearestKeywords } from '../listing/explain.js';
import { readListing } from '../listing/read.js';
import type { Snapshot } from './snapshot.js';

export interface Repair extends Span {
  readonly text: string;
  /** What it does, in a few words. */
  readonly what: string;
}

/** The repairs of an error of reading, the likeliest first. */
export function repairsOf(snapshot: Snapshot, error: Diagnostic): Repair[] {
  const line = snapshot.lineAt(error.start);
  if (line === undefined) return [];
  const { include } = snapshot.options;
  const before = snapshot.text.slice(line.start, line.end);
  return candidates(snapshot.text, error).filter(({ start, end, text }) => {
    const after = before.slice(0, start - line.start) + text + before.slice(end - line.start);
    const { listing, diagnostics } = readListing(after, { include });
    return !hasErrors(diagnostics) && listing.lines.length === 1;
  });
}

function candidates(text: string, { rule, start, end }: Diagnostic): Repair[] {
  const word = text.slice(start, end);
  if (rule === 'let-missing') {
    return [{ start, end: start, text: 'LET ', what: `Write LET before ${word}` }];
  }
  if (!/^[A-Z][A-Z0-9]*\$?$/i.test(word)) return [];
  return nearestKeywords(word).map((keyword) => ({
    start,
    end,
    text: keyword,
    what: `Write ${keyword}`,
  }));
}
