import { describe, expect, test } from 'vitest';
import { GLYPH_SIZE, glyphOf } from '../../src/machine/glyphs.js';

describe('glyphs', () => {
  test('every sign, digit and letter has one of its own, with a free edge', () => {
    const seen = new Set<string>();
    for (let code = 11; code < 64; code++) {
      const glyph = glyphOf(code);
      expect(glyph).toHaveLength(GLYPH_SIZE);
      expect(glyph.some((row) => row !== 0)).toBe(true);
      expect([glyph[0], glyph[7]]).toEqual([0, 0]);
      expect([...glyph].every((row) => (row & 0x81) === 0)).toBe(true);
      seen.add(glyph.join());
    }
    expect(seen.size).toBe(53);
  });

  test('inverse codes change lit and dark', () => {
    for (let code = 0; code < 64; code++) {
      const lit = glyphOf(code);
      expect([...glyphOf(code + 128)]).toEqual([...lit].map((row) => row ^ 0xff));
    }
  });

  test('blocks light their quarters, greys every other dot', () => {
    expect([...glyphOf(1)]).toEqual([0xf0, 0xf0, 0xf0, 0xf0, 0, 0, 0, 0]);
    expect([...glyphOf(6)]).toEqual([0x0f, 0x0f, 0x0f, 0x0f, 0xf0, 0xf0, 0xf0, 0xf0]);
    expect([...glyphOf(128)]).toEqual(new Array(8).fill(0xff));
    const dots = (code: number) =>
      [...glyphOf(code)]
        .map((row) => row.toString(2))
        .join('')
        .split('1').length - 1;
    expect([dots(8), dots(9), dots(10), dots(0)]).toEqual([32, 16, 16, 0]);
    expect(
      glyphOf(9)
        .slice(0, 4)
        .every((row) => row === 0),
    ).toBe(true);
  });

  test('signs, digits and letters are lit on dark', () => {
    for (let code = 11; code < 64; code++) {
      const bits = [...glyphOf(code)].map((row) => row.toString(2).replaceAll('0', '').length);
      expect(bits.reduce((sum, lit) => sum + lit)).toBeLessThan(32);
    }
    // The full stop: four dots, low in its cell.
    expect([...glyphOf(27)].filter((row) => row !== 0)).toHaveLength(2);
  });

  test('codes that no cell shows are empty', () => {
    expect(glyphOf(100).every((row) => row === 0)).toBe(true);
  });
});
