/** What keys and codes are called, on a key and by a person. */
import { hasGlyph, INVERSE, KEYWORDS, unicodeOfCode } from '../machine/characters.js';
import {
  CURSOR_DOWN,
  CURSOR_LEFT,
  CURSOR_RIGHT,
  CURSOR_UP,
  EDIT,
  FUNCTION,
  GRAPHICS,
  type Key,
  RUBOUT,
} from '../machine/keyboard.js';

/** A code as a person names it. */
export function nameOfCode(code: number): string {
  const plain = unicodeOfCode(code) ?? KEYWORDS.get(code);
  if (plain !== undefined) return plain === ' ' ? 'SPACE' : plain;
  if (code >= INVERSE && hasGlyph(code)) return `inverse ${unicodeOfCode(code - INVERSE)}`;
  return `code ${code}`;
}

/** Short names of what edits, as they stand on the keys. */
const CONTROLS: Record<number, string> = {
  [CURSOR_UP]: '↑',
  [CURSOR_DOWN]: '↓',
  [CURSOR_LEFT]: '←',
  [CURSOR_RIGHT]: '→',
  [GRAPHICS]: 'GRAPH',
  [EDIT]: 'EDIT',
  [RUBOUT]: 'RUB',
  [FUNCTION]: 'FUNC',
};

/** The keyword of a key; empty where it has none. */
export const keywordName = ({ keyword, plain }: Key): string =>
  keyword === undefined || keyword === plain ? '' : (KEYWORDS.get(keyword) ?? '');

/** What a key gives with SHIFT; empty where that is nothing. */
export const shiftedName = ({ shifted }: Key): string =>
  shifted === undefined ? '' : (CONTROLS[shifted] ?? nameOfCode(shifted));
