import { describe, expect, it } from 'vitest';
import { INVERSE, KEYWORD_CODES, KEYWORDS, unicodeOfCode } from '../../src/machine/characters.js';
import {
  CURSOR_DOWN,
  CURSOR_LEFT,
  CURSOR_RIGHT,
  CURSOR_UP,
  EDIT,
  FUNCTION,
  GRAPHICS,
  KEYS,
  modeAfter,
  NEWLINE_KEY,
  RUBOUT,
} from '../../src/machine/keyboard.js';

const key = (name: string) => KEYS.find((one) => one.name === name)!;

describe('the keyboard (the manual, from memory)', () => {
  it('has forty keys in four rows of ten', () => {
    expect(KEYS).toHaveLength(40);
    expect(new Set(KEYS.map(({ name }) => name)).size).toBe(40);
    expect(KEYS.filter(({ row }) => row === 3).map(({ name }) => name)).toContain('NEWLINE');
  });

  it('gives every keyword and every character by some key', () => {
    const given = new Set(
      KEYS.flatMap((one) => [
        one.plain,
        one.keyword,
        one.shifted,
        one.function,
        one.inverse,
        one.graphic,
      ]),
    );
    const all = [...KEYWORDS.keys(), ...Array.from({ length: 64 }, (_, code) => code)];
    all.push(...Array.from({ length: 64 }, (_, code) => code + 128));
    expect(all.filter((code) => !given.has(code))).toEqual([]);
  });

  it.each([
    ['P', 'PRINT', '"', 'TAB'],
    ['F', 'FOR', 'FAST', 'SGN'],
    ['J', 'LOAD', '-', 'VAL'],
    ['V', 'CLS', '/', undefined],
    ['M', 'PAUSE', '>', 'PI'],
  ])('%s is %s, shifted %s, function %s', (name, keyword, shifted, functionWord) => {
    const word = (code?: number) =>
      code === undefined ? undefined : (KEYWORDS.get(code) ?? unicodeOfCode(code));
    const one = key(name);
    expect([word(one.keyword), word(one.shifted), word(one.function)]).toEqual([
      keyword,
      shifted,
      functionWord,
    ]);
  });

  it.each([
    // Letters and digits alone, then SHIFT with signs, with the graphics, and with control keys.
    ['A', '[~A]', '▒'],
    ['7', '[~7]', '▀'],
    ['.', '[~.]', '[~,]'],
    ['SPACE', '█', '[~£]'],
    ['P', '[~P]', '[~"]'],
    ['J', '[~J]', '[~-]'],
    ['N', '[~N]', '[~<]'],
    ['9', '[~9]', 'GRAPHICS'],
    ['0', '[~0]', 'RUBOUT'],
    ['NEWLINE', 'NEWLINE', 'FUNCTION'],
    ['SHIFT', undefined, undefined],
  ])('%s gives %s in graphics mode, and %s with SHIFT', (name, inverse, graphic) => {
    const controls = new Map([
      [GRAPHICS, 'GRAPHICS'],
      [NEWLINE_KEY, 'NEWLINE'],
      [RUBOUT, 'RUBOUT'],
      [FUNCTION, 'FUNCTION'],
    ]);
    const shown = (code?: number) =>
      code === undefined
        ? undefined
        : (unicodeOfCode(code) ?? controls.get(code) ?? `[~${unicodeOfCode(code - INVERSE)}]`);
    expect([shown(key(name).inverse), shown(key(name).graphic)]).toEqual([inverse, graphic]);
  });

  it('has keys that edit on the shifted digits, and none on SHIFT itself', () => {
    const digits = [...'1234567890'].map((name) => key(name).shifted);
    expect(digits).toEqual([
      EDIT,
      ...['AND', 'THEN', 'TO'].map((word) => KEYWORD_CODES.get(word)),
      CURSOR_LEFT,
      CURSOR_DOWN,
      CURSOR_UP,
      CURSOR_RIGHT,
      GRAPHICS,
      RUBOUT,
    ]);
    const { row, place, name, ...codes } = key('SHIFT');
    expect([row, place, name]).toEqual([4, 0, 'SHIFT']);
    expect(Object.values(codes).every((code) => code === undefined)).toBe(true);
    expect([key('NEWLINE').plain, key('NEWLINE').keyword]).toEqual([NEWLINE_KEY, NEWLINE_KEY]);
  });

  it('shows K after THEN and L after every other word; signs and digits change nothing', () => {
    expect(modeAfter(222, 'L')).toBe('K');
    expect(modeAfter(245, 'K')).toBe('L');
    // A letter is a word's beginning.
    expect(modeAfter(38, 'K')).toBe('L');
    expect(modeAfter(28, 'K')).toBe('K');
    expect(modeAfter(11, 'L')).toBe('L');
  });
});
