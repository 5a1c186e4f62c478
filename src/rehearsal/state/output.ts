/** What PRINT and LPRINT have in common: words for codes, and where a space goes before them. */
import { numberText } from '../../machine/arithmetic/digits.js';
import {
  codeOfUnicode,
  hasGlyph,
  hasSpaceAfter,
  hasSpaceBefore,
  KEYWORDS,
  QUOTE,
  QUOTE_IMAGE,
  SPACE,
  UNPRINTABLE,
} from '../../machine/characters.js';
import type { Memory } from './memory.js';

/** Where text goes: the display, or the printer's strip. */
export interface Device {
  readonly memory: Memory;
  /** One code that has a glyph. */
  put(code: number): void;
  newline(): void;
  /** PRINT AT, with the sizes of row and column already checked to be at most 255. */
  at(row: number, column: number): void;
  /** The column, 0 to 31; to the left means on the next row. */
  tab(column: number): void;
  comma(): void;
  /** What stands for a 0 after the first behind a point, where that is spoilt. */
  spoiltZero?(): number;
}

/** Codes of a text of plain characters. */
export function codesOf(text: string): Uint8Array {
  const codes = new Uint8Array(text.length);
  for (let at = 0; at < text.length; at++) codes[at] = codeOfUnicode(text[at]) ?? UNPRINTABLE;
  return codes;
}

/** Codes of each keyword's letters, without the spaces about them. */
const LETTERS = new Map<number, Uint8Array>();

function lettersOf(code: number): Uint8Array {
  let letters = LETTERS.get(code);
  if (letters === undefined) {
    letters = codesOf(KEYWORDS.get(code)!);
    LETTERS.set(code, letters);
  }
  return letters;
}

/** Shows one code as PRINT does: keywords in full, a quote for the quote image. */
export function putCode(device: Device, code: number): void {
  if (hasGlyph(code) && !KEYWORDS.has(code)) put(device, code);
  else if (code === QUOTE_IMAGE) put(device, QUOTE);
  else if (KEYWORDS.has(code)) putKeyword(device, code);
  else put(device, UNPRINTABLE);
}

export function putCodes(device: Device, codes: Uint8Array): void {
  for (let at = 0; at < codes.length; at++) putCode(device, codes[at]);
}

/** Zeros after a point, of which LPRINT spoils all but the first. */
const LEADING_ZEROS = /^-?\.0(0+)/;

/** A number in digits. */
export function putNumber(device: Device, value: number): void {
  const text = numberText(value);
  const spoilt = LEADING_ZEROS.exec(text);
  const start = spoilt === null ? text.length : spoilt[0].length - spoilt[1].length;
  putCodes(device, codesOf(text.slice(0, start)));
  if (spoilt === null) return;
  for (const zero of codesOf(spoilt[1])) device.put(device.spoiltZero?.() ?? zero);
  putCodes(device, codesOf(text.slice(spoilt[0].length)));
}

export function putKeyword(device: Device, code: number): void {
  if (hasSpaceBefore(code) && !device.memory.isSpaced) put(device, SPACE);
  for (const letter of lettersOf(code)) put(device, letter);
  if (!hasSpaceAfter(code)) return;
  device.put(SPACE);
  device.memory.isSpaced = true;
}

function put(device: Device, code: number): void {
  device.put(code);
  // A printed space leaves the flag as it is (PRINT-SP 07F5): only a keyword's own sets it.
  if (code !== SPACE) device.memory.isSpaced = false;
}
