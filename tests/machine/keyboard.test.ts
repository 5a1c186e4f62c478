import { describe, expect, it } from 'vitest';
import { KEYWORDS, unicodeOfCode } from '../../src/machine/characters.js';
import { KEYS, modeAfter } from '../../src/machine/keyboard.js';

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

  it('shows K after THEN and L after every other word; signs and digits change nothing', () => {
    expect(modeAfter(222, 'L')).toBe('K');
    expect(modeAfter(245, 'K')).toBe('L');
    expect(modeAfter(28, 'K')).toBe('K');
    expect(modeAfter(11, 'L')).toBe('L');
  });
});
