/** Addresses that a program names as constants: for USR, POKE and PEEK. Read from stored codes. */

import { numberOfDecimal } from '../machine/arithmetic/decimal.js';
import {
  KEYWORD_CODES,
  NUMBER_MARKER,
  QUOTE,
  REM,
  textOfCodes,
  unicodeOfCode,
} from '../machine/characters.js';
import { decodeNumber } from '../machine/numbers.js';
import { closingQuote, endOfPiece, findPiece } from '../machine/stored-codes.js';

const VAL = KEYWORD_CODES.get('VAL')!;
/** Longest literal that is an address: `16514.000`. */
const LONGEST_ADDRESS = 12;

export const USR = KEYWORD_CODES.get('USR')!;
export const POKE = KEYWORD_CODES.get('POKE')!;
export const PEEK = KEYWORD_CODES.get('PEEK')!;

/** Offset of the REM in a line's codes, or -1. */
export function remOffset(codes: Uint8Array): number {
  return findPiece(codes, (code) => code === REM);
}

/** The addresses that stand right after one of these codes in a line, as literal or VAL of one. */
export function addressesIn(codes: Uint8Array, wanted: readonly number[]): number[] {
  if (!wanted.some((code) => codes.includes(code))) return [];
  const found: number[] = [];
  for (let at = 0; at < codes.length; at = endOfPiece(codes, at)) {
    if (!wanted.includes(codes[at])) continue;
    const address = constantAt(codes, at + 1);
    if (address !== undefined) found.push(address);
  }
  return found;
}

/** The value of the literal, or of VAL of a literal, at `at`. */
function constantAt(codes: Uint8Array, at: number): number | undefined {
  if (codes[at] === VAL && codes[at + 1] === QUOTE) {
    const end = closingQuote(codes, at + 1);
    if (end < 0 || end - at > LONGEST_ADDRESS) return undefined;
    const text = textOfCodes(codes.subarray(at + 2, end));
    return /^\d+$/.test(text) ? numberOfDecimal(text) : undefined;
  }
  for (let end = at; end < at + LONGEST_ADDRESS && end < codes.length; end++) {
    if (codes[end] === NUMBER_MARKER && end > at) return decodeNumber(codes, end + 1);
    if (!/^[\d.E+]$/.test(unicodeOfCode(codes[end]) ?? '')) return undefined;
  }
  return undefined;
}
