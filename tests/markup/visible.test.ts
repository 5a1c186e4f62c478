import { describe, expect, it } from 'vitest';
import { visible, visibleJson, visibleLine } from '../../src/markup/visible.js';

describe('text that may be shown', () => {
  it.each([
    ['an escape', '\u001b[31mA', '[U+001B][31mA'],
    ['a bell, a backspace, a carriage return', '\u0007\b\r', '[U+0007][U+0008][U+000D]'],
    ['a control of eight bits', 'A\u009b2J', 'A[U+009B]2J'],
    [
      'marks of direction',
      '\u202eA\u202c\u2067B\u2069\u200f',
      '[U+202E]A[U+202C][U+2067]B[U+2069][U+200F]',
    ],
    ['separators of lines', '\u2028\u2029', '[U+2028][U+2029]'],
    ['half a character', '\ud83d', '[U+D83D]'],
  ])('has the code of %s', (_, text, shown) => {
    expect(visible(text)).toBe(shown);
    expect(visible(shown)).toBe(shown);
  });
  it('is everything else as it is', () => {
    const text = 'A\tB\n▚▒🮏 é 語 \u{1f4fc} אב';
    expect(visible(text)).toBe(text);
    expect(visibleLine('A\tB\n')).toBe('A[U+0009]B[U+000A]');
  });
  it('is the same JSON', () => {
    const value = { a: '\u202e\u001b\u009b\ud800' };
    const json = visibleJson(JSON.stringify(value));
    expect(json).toBe('{"a":"\\u202E\\u001b\\u009B\\ud800"}');
    expect(JSON.parse(json)).toEqual(value);
  });
});
