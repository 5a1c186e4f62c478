/** What PRINT and LPRINT have in common: words for codes, and where a space goes before them. */
import {
  codeOfUnicode,
  hasSpaceAfter,
  hasSpaceBefore,
  KEYWORDS,
  QUOTE,
  QUOTE_IMAGE,
  SPACE,
  UNPRINTABLE,
} from '../machine/characters.js';

/** Where text goes: the display, or the printer's strip. */
export interface Device {
  /** Was a space the last thing shown, or is this the start of a line? */
  spaced: boolean;
  /** One code that has a glyph. */
  put(code: number): void;
  newline(): void;
  /** PRINT AT, with the sizes of row and column already checked to be at most 255. */
  at(row: number, column: number): void;
  /** The column, 0 to 31; to the left means on the next row. */
  tab(column: number): void;
  comma(): void;
}

/** Codes of a text of plain characters. */
export function codesOf(text: string): Uint8Array {
  return Uint8Array.from(text, (character) => codeOfUnicode(character) ?? UNPRINTABLE);
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

/** Has this code a glyph of its own? */
const hasGlyph = (code: number): boolean => (code & 0x7f) < 64;

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

export function putKeyword(device: Device, code: number): void {
  if (hasSpaceBefore(code) && !device.spaced) put(device, SPACE);
  for (const letter of lettersOf(code)) put(device, letter);
  if (hasSpaceAfter(code)) put(device, SPACE);
}

function put(device: Device, code: number): void {
  device.put(code);
  device.spaced = code === SPACE;
}
