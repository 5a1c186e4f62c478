/** Codes, names and quarters of the characters; tests/published holds the codes to the Unicode Standard. */
import { describe, expect, it } from 'vitest';
import {
  codeOfQuarters,
  codesOfText,
  GRAPHIC_NAMES,
  hasGlyph,
  hasSpaceAfter,
  hasSpaceBefore,
  isDigitCode,
  isLetterCode,
  KEYWORDS,
  quartersOfCode,
  unicodeOfCode,
} from '../../src/machine/characters.js';

const ALL = Array.from({ length: 256 }, (_, code) => code);
const QUARTERS = { ul: 1, ur: 2, ll: 4, lr: 8 } as const;

describe('the names of graphics', () => {
  it('of quarters name those that are lit, each set of them once', () => {
    const pure = [...GRAPHIC_NAMES].filter(([name]) => !name.includes('grey'));
    const lit = pure.map(([name, code]) => {
      const quarters = name
        .split('+')
        .reduce((sum, quarter) => sum + QUARTERS[quarter as keyof typeof QUARTERS], 0);
      expect([name, quartersOfCode(code), codeOfQuarters(quarters)]).toEqual([
        name,
        quarters,
        code,
      ]);
      return quarters;
    });
    expect(lit.sort((a, b) => a - b)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15]);
  });

  it('of greys say which half is grey, and what is lit besides', () => {
    const greys = [...GRAPHIC_NAMES].filter(([name]) => name.includes('grey'));
    expect(greys.map(([name, code]) => [name, unicodeOfCode(code)])).toEqual([
      ['grey', '▒'],
      // The Unicode Standard: lower and upper half medium shade, inverse medium shade, and blocks.
      ['grey-bottom', '\u{1FB8F}'],
      ['grey-top', '\u{1FB8E}'],
      ['grey-inverse', '\u{1FB90}'],
      ['ul+ur+grey-bottom', '\u{1FB91}'],
      ['grey-top+ll+lr', '\u{1FB92}'],
    ]);
  });

  it('are of the graphics alone: every other code lights no set of quarters', () => {
    const pure = ALL.filter((code) => quartersOfCode(code) !== undefined);
    expect(pure).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 128, 129, 130, 131, 132, 133, 134, 135]);
    for (const code of pure) expect(codeOfQuarters(quartersOfCode(code)!)).toBe(code);
  });
});

describe('kinds of codes', () => {
  const only = (holds: (code: number) => boolean) => ALL.filter(holds);
  it('digits are 28 to 37, letters 38 to 63', () => {
    expect(only(isDigitCode)).toEqual(ALL.slice(28, 38));
    expect(only(isLetterCode)).toEqual(ALL.slice(38, 64));
  });
  it('glyphs are those of 0 to 63, and their inverses', () => {
    expect(only(hasGlyph)).toEqual([...ALL.slice(0, 64), ...ALL.slice(128, 192)]);
  });
});

describe('the spaces of a keyword that is shown (common practice)', () => {
  const words = (holds: (code: number) => boolean) =>
    [...KEYWORDS].flatMap(([code, word]) => (holds(code) ? [word] : []));
  it('one follows each, except the constants, INKEY$, the quote image and the signs', () => {
    expect(words((code) => !hasSpaceAfter(code))).toEqual([
      'RND',
      'INKEY$',
      'PI',
      '""',
      '**',
      '<=',
      '>=',
      '<>',
    ]);
  });
  it('one stands before the commands, and before words between two values', () => {
    const commands = words((code) => code >= 225);
    expect(commands[0]).toBe('LPRINT');
    expect(words(hasSpaceBefore)).toEqual(['OR', 'AND', 'THEN', 'TO', 'STEP', ...commands]);
  });
});

it('a text has a code for each character; what is not on the machine is refused', () => {
  expect([...codesOfText('OAK 2b')]).toEqual([52, 38, 48, 0, 30, 39]);
  expect(() => codesOfText('OAK{')).toThrow(new RangeError('the machine has no character {'));
});
