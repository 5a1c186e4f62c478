/**
 * Repairs of a line that cannot be read: what the message offers, made, and kept only where the
 * line then reads without an error.
 */
import type { Line } from '../../grammar/tree.js';
import { type Diagnostic, hasErrors } from '../listing/diagnostics.js';
import type { Edit } from '../listing/edits.js';
import { nearestKeywords } from '../listing/explain.js';
import { readListing } from '../listing/read.js';
import { LINES_END } from '../machine/memory-map.js';
import type { Snapshot } from './snapshot.js';

export interface Repair extends Edit {
  /** What it does, in a few words. */
  readonly what: string;
}

/** The repairs of an error of reading, the likeliest first. */
export function repairsOf(snapshot: Snapshot, error: Diagnostic): Repair[] {
  const line = snapshot.lineAt(error.start);
  if (line === undefined) return [];
  const { include } = snapshot.options;
  const before = snapshot.text.slice(line.start, line.end);
  const written = writtenInstead(snapshot, line, error);
  const others = error.instead === undefined ? otherWords(snapshot.text, error) : [];
  return [...(written === undefined ? [] : [written]), ...others].filter(({ start, end, text }) => {
    const after = before.slice(0, start - line.start) + text + before.slice(end - line.start);
    return !hasErrors(readListing(after, { include }).diagnostics);
  });
}

/** The statements that the message offers, where there are numbers for their lines. */
function writtenInstead(
  { listing, text }: Snapshot,
  line: Line,
  { instead }: Diagnostic,
): Repair | undefined {
  const { number, start, end } = line;
  const head = /^\s*\d+\s*/.exec(text.slice(start, end));
  if (instead === undefined || head === null) return undefined;
  const next = listing.lines.reduce(
    (least, other) => (other.number > number ? Math.min(least, other.number) : least),
    LINES_END,
  );
  if (number + instead.length > next) return undefined;
  return {
    start: start + head[0].length,
    end,
    text: instead.map((one, at) => (at === 0 ? one : `${number + at} ${one}`)).join('\n'),
    what: `Write ${instead.join(', then ')}`,
  };
}

/** A keyword in place of a word that is near to it. */
function otherWords(text: string, { start, end }: Diagnostic): Repair[] {
  const word = text.slice(start, end);
  if (!/^[A-Z][A-Z0-9]*\$?$/i.test(word)) return [];
  return nearestKeywords(word).map((keyword) => ({
    start,
    end,
    text: keyword,
    what: `Write ${keyword}`,
  }));
}
