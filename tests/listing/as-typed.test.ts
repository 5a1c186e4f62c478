import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { TidyLines } from '../../src/listing/tidy.js';
import { KEYWORD_CODES, NUMBER_MARKER, SPACE } from '../../src/machine/characters.js';
import { encodeNumber } from '../../src/machine/numbers.js';

const LET = KEYWORD_CODES.get('LET')!;
const PRINT = KEYWORD_CODES.get('PRINT')!;
const ONE = [NUMBER_MARKER, ...encodeNumber(1)];
const TEN = [NUMBER_MARKER, ...encodeNumber(10)];

const codesOf = (text: string): number[] => [...readListing(`10 ${text}`).listing.lines[0].codes];

/** What is said of a line: severity, rule, message. */
const said = (text: string): string[] =>
  readListing(`10 ${text}`).diagnostics.map(
    ({ severity, rule, message }) => `${severity} ${rule}: ${message}`,
  );

const tidy = (...codes: number[]): string => {
  const lines = new TidyLines([{ number: 10, codes: Uint8Array.from(codes) }]);
  lines.mend(readListing(`${lines.directives}\n${lines.texts[0]}`));
  return lines.texts[0];
};

// G. Wearmouth, "An Assembly Listing of the Operating System" (2004), LOOK-VARS 111C and DEC-TO-FP 14D9:
// spaces are read over within names and numbers, and stay in the line.
describe('a space within a name or a number', () => {
  it.each([
    ['LET HIGH SCORE=1', [LET, 45, 46, 44, 45, SPACE, 56, 40, 52, 55, 42, 20, 29, ...ONE]],
    ['LET HIGH[sp]SCORE=1', [LET, 45, 46, 44, 45, SPACE, 56, 40, 52, 55, 42, 20, 29, ...ONE]],
    ['PRINT A  5', [PRINT, 38, SPACE, SPACE, 33]],
    ['PRINT A $', [PRINT, 38, SPACE, 13]],
    ['PRINT 1 0', [PRINT, 29, SPACE, 28, ...TEN]],
    ['PRINT 1 E 1', [PRINT, 29, SPACE, 42, SPACE, 29, ...TEN]],
    ['PRINT 1 . 0', [PRINT, 29, SPACE, 27, SPACE, 28, ...ONE]],
  ])('%s is stored as it is written', (text, codes) => {
    expect(codesOf(text)).toEqual(codes);
  });

  it('makes one name, and one value', () => {
    const { listing } = readListing('10 LET HIGH SCORE=1 0\n20 PRINT HIGHSCORE\n');
    const [one, two] = listing.lines;
    expect(one.statement).toMatchObject({
      target: { name: 'HIGHSCORE', start: 7, end: 17 },
      value: { value: 10, text: '10', spaces: 1 },
    });
    expect(two.statement).toMatchObject({ items: [{ name: 'HIGHSCORE' }] });
  });

  it('is told where it is a plain one, and how to write it', () => {
    const { diagnostics } = readListing('10 LET HIGH SCORE=0');
    expect(diagnostics).toEqual([
      {
        severity: 'warning',
        rule: 'space-within',
        start: 7,
        end: 17,
        message: 'HIGH SCORE is read as the one name HIGHSCORE, and its space is stored',
        why: 'the machine reads on over a space within a name or a number, and keeps it',
        help: 'write HIGHSCORE, or HIGH[sp]SCORE where the space is meant',
      },
    ]);
    expect(said('LET HIGH[sp]SCORE=0')).toEqual([]);
  });

  it('may be a separator that is missing, which is told too', () => {
    const [{ message, help, instead }] = readListing('10 PRINT A B').diagnostics;
    expect(message).toBe('A B is read as the one name AB, and its space is stored');
    expect(help).toBe(
      'write AB, or A[sp]B where the space is meant; if it is two things, write `PRINT A;B`',
    );
    expect(instead).toEqual(['PRINT A;B']);
  });

  it('is none where a word is known to mean something else', () => {
    expect(said('PRINT A MOD B')).toEqual([
      'error syntax: this machine has no MOD: a remainder is worked out',
    ]);
    for (const text of ['IF A THAN B THEN STOP', 'LET A=B ADN C', 'LET A=B ANDC', 'POKE 1 2,']) {
      expect(said(text).join()).not.toContain('space-within');
    }
    expect(codesOf('FOR I=A[sp]TO 5')).toContain(KEYWORD_CODES.get('TO'));
  });
});

describe('spaces behind a number', () => {
  it('stand before its bytes, as typing them gives', () => {
    expect(codesOf('PRINT 1[sp];A')).toEqual([PRINT, 29, SPACE, ...ONE, 25, 38]);
    expect(tidy(PRINT, 29, SPACE, ...ONE, 25, 38)).toBe('10 PRINT 1[sp];A');
  });

  it('stand behind them where layout parts them from the number', () => {
    expect(codesOf('PRINT 1 [sp];A')).toEqual([PRINT, 29, ...ONE, SPACE, 25, 38]);
    expect(tidy(PRINT, 29, ...ONE, SPACE, 25, 38)).toBe('10 PRINT 1 [sp];A');
    expect(tidy(PRINT, 29, SPACE, ...ONE, SPACE)).toBe('10 PRINT 1[sp] [sp]');
  });
});

describe('numbers as the machine takes them', () => {
  it.each([
    ['.', 0],
    ['1E', 1],
    ['1E+', 1],
    ['.E5', 0],
    ['5.', 5],
    ['2.E1', 20],
  ])('%s is %d', (text, value) => {
    const { listing, diagnostics } = readListing(`10 PRINT ${text};A`);
    expect(diagnostics).toEqual([]);
    expect(listing.lines[0].statement).toMatchObject({
      items: [{ kind: 'number', value }, {}, {}],
    });
    expect(tidy(...listing.lines[0].codes)).toBe(`10 PRINT ${text};A`);
  });

  it.each(['PRINT 1EA', 'PRINT 1E+A', 'PRINT ..', 'PRINT A.B'])('%s is no statement', (text) => {
    expect(said(text).join()).toContain('error');
  });
});

it('any spaces among the characters of a name or a number come back from their text', () => {
  const spaced = (characters: fc.Arbitrary<number>) =>
    fc
      .array(fc.tuple(characters, fc.constantFrom(0, 0, 0, 1, 2)), { minLength: 1, maxLength: 6 })
      .map((list) => list.flatMap(([code, spaces]) => [code, ...Array(spaces).fill(SPACE)]));
  const digits = spaced(fc.constantFrom(27, 28, 29, 42, 21));
  const letters = spaced(fc.constantFrom(38, 42, 57, 52, 29, 13));
  const line = fc.oneof(
    letters.map((name) => [PRINT, ...name]),
    digits.map((number) => [PRINT, ...number, ...ONE]),
    fc.tuple(letters, digits).map(([name, number]) => [LET, ...name, 20, ...number, ...TEN, SPACE]),
  );
  let statements = 0;
  fc.assert(
    fc.property(line, (codes) => {
      const text = tidy(...codes);
      expect([...readListing(`.lines as-written\n${text}`).listing.lines[0].codes]).toEqual(codes);
      if (!text.startsWith('10 [')) statements++;
    }),
    { numRuns: process.env.FUZZ ? 20000 : 500, seed: 14 },
  );
  expect(statements).toBeGreaterThan(100);
});
