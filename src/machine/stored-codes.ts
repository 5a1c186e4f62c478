/**
 * A program line's codes, piece by piece: a string, a number's hidden bytes and the text of a REM
 * are a piece each, every other code is one. Whoever looks for a code in a line goes this way, so
 * that none is found within such a piece.
 * Source: the manual, chapter 27, from memory.
 */
import { NUMBER_MARKER, QUOTE, REM } from './characters.js';
import { NUMBER_SIZE } from './numbers.js';

/** What stands behind a number's characters and is not shown: a marker and its five bytes. */
export const HIDDEN_SIZE = 1 + NUMBER_SIZE;

/**
 * Offset of the code behind the piece that begins at `at`, at most the end of the codes. A string
 * goes on to its closing quote, and one that nothing closes to the end of the line, as a REM does.
 */
export function endOfPiece(codes: Uint8Array, at: number): number {
  const code = codes[at];
  if (code === NUMBER_MARKER) return Math.min(at + HIDDEN_SIZE, codes.length);
  if (code === REM) return codes.length;
  if (code !== QUOTE) return at + 1;
  const close = closingQuote(codes, at);
  return close < 0 ? codes.length : close + 1;
}

/** Offset of the quote that closes the string whose first quote stands at `at`; -1 where none does. */
export function closingQuote(codes: Uint8Array, at: number): number {
  return codes.indexOf(QUOTE, at + 1);
}

/** Offset of the first piece that begins with one of these codes; -1 where none does. */
export function findPiece(codes: Uint8Array, wanted: (code: number) => boolean): number {
  for (let at = 0; at < codes.length; at = endOfPiece(codes, at)) {
    if (wanted(codes[at])) return at;
  }
  return -1;
}
