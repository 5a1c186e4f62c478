import { describe, expect, test } from 'vitest';
import { blocksOfText, fittingLetters, type LetterSize } from '../../src/draw/letters.js';
import { unicodeOfCode } from '../../src/machine/characters.js';

const rowsOf = (text: string, size: LetterSize, width?: number): string[] => {
  const { width: wide, height, dark } = blocksOfText(text, size, width);
  return Array.from({ length: height }, (_, row) =>
    Array.from(dark.subarray(row * wide, (row + 1) * wide), (one) => (one ? '#' : '.')).join(''),
  );
};

describe('large letters', () => {
  test('of four by four blocks, one apart', () => {
    expect(rowsOf('LI', 4)).toEqual(['#....###.', '#.....#..', '#.....#..', '####.###.']);
  });

  test.each([4, 8] as const)(
    'every sign, digit and letter has its own form in %i by %i',
    (size) => {
      const forms = new Map<string, string>();
      for (let code = 11; code < 64; code++) {
        const sign = unicodeOfCode(code)!;
        const form = rowsOf(sign, size).join('\n');
        expect(form, sign).toContain('#');
        expect(forms.get(form), `${sign} looks like`).toBeUndefined();
        forms.set(form, sign);
      }
      expect(forms.size).toBe(53);
    },
  );

  test('words go on in the next row, and each row stands in the middle', () => {
    const rows = rowsOf('LL L', 4, 14);
    expect(rows).toHaveLength(9);
    expect(rows[8]).toBe('..####...');
    expect(rowsOf('L\nL', 4)).toHaveLength(9);
    expect(rowsOf('LANTERN LOFT', 4)).toHaveLength(4);
    expect(blocksOfText('LANTERN LOFT', 4).width).toBe(59);
  });

  test('the larger letters are taken where they fit', () => {
    expect(fittingLetters('LOFT', 64, 44)).toBe(8);
    expect(fittingLetters('LANTERNS OF THE LOFT ARE OPEN TONIGHT TO ALL', 64, 44)).toBe(4);
    expect(fittingLetters('TOWPATHERS', 64, 44)).toBe(4);
  });

  test('what cannot be drawn is told', () => {
    expect(() => blocksOfText('LOFT!', 8)).toThrow('the machine has no character !');
    expect(() => blocksOfText('LANTERNLOFT', 8)).toThrow('a row takes 8 letters of 8 by 8 blocks');
  });
});
