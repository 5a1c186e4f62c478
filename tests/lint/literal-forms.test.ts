import { describe, expect, it } from 'vitest';
import type { NumberLiteral } from '../../grammar/tree.js';
import { shortestText, wholeNumberForm } from '../../src/lint/literal-forms.js';
import { readListing } from '../../src/listing/read.js';
import { KEYWORDS } from '../../src/machine/characters.js';
import { budgetOf } from '../../src/memory/budget.js';
import { play } from '../rehearsal/play.js';

const literal = (text: string): NumberLiteral => {
  const { statement } = readListing(`10 PRINT ${text}`).listing.lines[0];
  return (statement as unknown as { items: NumberLiteral[] }).items[0];
};

describe('a form of a whole number', () => {
  it('gives that number, and takes the bytes that it says', () => {
    for (const value of [...Array(260).keys(), 999, 4294967295]) {
      for (const mayEndInNot of [true, false]) {
        const { text, bytes } = wholeNumberForm(value, String(value), mayEndInNot);
        const { listing, diagnostics } = readListing(`10 PRINT ${text}`);
        expect([value, diagnostics]).toEqual([value, []]);
        expect([value, listing.lines[0].size - 1]).toEqual([value, bytes]);
        expect([value, budgetOf(listing, { ram: 1024 }).tooLarge]).toEqual([value, undefined]);
      }
    }
    const shown = [0, 1, 3, 9, 10, 66, 67, 138, 195, 229, 230].map(
      (value) => play(`10 PRINT ${wholeNumberForm(value).text}`).rows[0],
    );
    expect(shown).toEqual(['0', '1', '3', '9', '10', '66', '67', '138', '195', '229', '230']);
  });

  it('is CODE for what a key types between quotes, and VAL for the rest', () => {
    const coded = [...Array(256).keys()].filter((value) =>
      wholeNumberForm(value).text.startsWith('CODE '),
    );
    const quotes = [11, 192];
    const commands = [...KEYWORDS.keys()].filter((code) => code >= 230);
    const wanted = [...Array(256).keys()].filter(
      (code) =>
        code >= 10 &&
        (code <= 66 || code >= 128) &&
        code !== 195 &&
        !quotes.includes(code) &&
        !commands.includes(code),
    );
    expect(coded).toEqual(wanted);
    expect(wholeNumberForm(0, '0', false).text).toBe('CODE ""');
  });

  it('is spelt with an exponent where that is shorter', () => {
    expect(wholeNumberForm(1e9, '1E9').text).toBe('VAL "1E9"');
    expect(wholeNumberForm(1e9, '1000000000').text).toBe('VAL "1000000000"');
    expect(wholeNumberForm(2000, '02000').text).toBe('VAL "2000"');
  });
});

it.each([
  ['007', '7'],
  ['0.50', '.5'],
  ['100', '100'],
  ['10.10', '10.1'],
  ['4.', '4'],
  ['00', '0'],
  ['.00', '0'],
  ['.', '0'],
  ['0E5', '0'],
  ['1E', '1'],
  ['2.E+', '2'],
  ['2E-3', '2E-3'],
  ['1e+5', '1E+5'],
  ['01.0E05', '1E05'],
  ['1[sp]0', '10'],
])('%s without what says nothing is %s', (text, short) => {
  expect(shortestText(literal(text))).toBe(short);
});

it('digits stay where the number would be another without them', () => {
  // Each decimal is divided out on its own: the last bit of .30 may be another than that of .3.
  for (let hundredths = 1; hundredths < 100; hundredths++) {
    const short = shortestText(literal(`${hundredths / 10}0`));
    if (short !== undefined)
      expect(literal(short).value).toBe(literal(`${hundredths / 10}0`).value);
  }
});
