/** Changes to the text of a listing. */
import type { Line, Span } from '../../grammar/tree.js';

export interface Edit extends Span {
  readonly text: string;
}

/** The text with edits made; they may stand in any order but must not overlap. */
export function applyEdits(text: string, edits: readonly Edit[]): string {
  let result = '';
  let at = 0;
  for (const edit of [...edits].sort((a, b) => a.start - b.start)) {
    if (edit.start < at) throw new RangeError('edits overlap');
    result += text.slice(at, edit.start) + edit.text;
    at = edit.end;
  }
  return result + text.slice(at);
}

const WORD = /[A-Za-z0-9$.]/;

/** An edit that puts `words` in a place, with a space wherever they would run into a neighbour. */
export function putWords(text: string, { start, end }: Span, words: string): Edit {
  const joins = (left: string | undefined, right: string | undefined): boolean =>
    left !== undefined && right !== undefined && WORD.test(left) && WORD.test(right);
  const first = words === '' ? text[end] : words[0];
  const before = joins(text[start - 1], first) ? ' ' : '';
  const after = words !== '' && joins(words.at(-1), text[end]) ? ' ' : '';
  return { start, end, text: before + words + after };
}

/**
 * An edit that makes a line a comment of the editor's: its text stays to be read, and it takes no
 * byte of the machine's. For a line of one line of text.
 */
export function lineToComment(
  text: string,
  line: Line,
  words = text.slice(line.start, line.end),
): Edit {
  return { start: line.start, end: line.end, text: `' ${words}` };
}
