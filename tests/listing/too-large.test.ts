/** What no program can be is refused where it becomes so, and not read. */
import { describe, expect, it } from 'vitest';
import { NotAnImage } from '../../src/image/areas.js';
import { listingOfImage } from '../../src/image/read.js';
import { Places } from '../../src/listing/diagnostics.js';
import { LiveListing } from '../../src/listing/live.js';
import { readListing } from '../../src/listing/read.js';
import { TooLarge, tooLarge } from '../../src/listing/too-large.js';
import { MOST_CHARACTERS, MOST_LINES, MOST_ROWS } from '../../src/machine/program-limits.js';
import { transcribe } from '../../src/transcribe/transcribe.js';

const lines = (count: number, statement: string): string =>
  Array.from({ length: count }, (_, at) => `${at + 1} ${statement}\n`).join('');

const LARGE: [string, string, string, RegExp][] = [
  ['a text', "' LAMP\n".repeat(700_000), '599187:3', /more than 4194304 characters/],
  ['rows', '\n'.repeat(MOST_ROWS + 1), '65537:1', /more than 65536 rows/],
  ['one row', `10 CLS\n20 PRINT "${'A'.repeat(983_040)}"`, '2:983041', /row has more than 983040/],
  ['lines', lines(MOST_LINES + 1, 'CLS'), '10001:1', /more than 10000 lines/],
];

describe('a text that is larger than any program', () => {
  it.each(LARGE)('%s: is refused with its place', (_, text, place, message) => {
    const { listing, diagnostics } = readListing(text);
    expect(diagnostics).toHaveLength(1);
    const { line, column } = new Places(text).at(diagnostics[0].start);
    expect(`${line}:${column}`).toBe(place);
    expect(diagnostics[0].message).toMatch(message);
    expect(listing).toEqual({ items: [], lines: [], isWhole: false });
    expect(() => transcribe(text)).toThrow(TooLarge);
    expect(new LiveListing(text).read().diagnostics).toEqual(diagnostics);
  });

  it('is none up to the limits', () => {
    expect(tooLarge(lines(MOST_LINES, 'CLS'))).toBeUndefined();
    expect(tooLarge('\n'.repeat(MOST_ROWS))).toBeUndefined();
    expect(tooLarge(`${'A'.repeat(983_040)}\n`)).toBeUndefined();
    expect(tooLarge(`${'A'.repeat(99)}\n`.repeat(MOST_CHARACTERS / 100))).toBeUndefined();
  });

  it('is not one for rows of bytes that only look like lines', () => {
    const text = `10 REM [${'40\n'.repeat(12_000)}]\n20 CLS\n`;
    const { listing, diagnostics } = readListing(text);
    expect(diagnostics).toEqual([]);
    expect(listing.lines[0].codes).toHaveLength(1 + 12_000);
  });

  it('may become small enough again while it is edited', () => {
    const text = lines(MOST_LINES + 1, 'CLS');
    const live = new LiveListing(text);
    live.change(20, text.length, '');
    expect(live.read()).toEqual(readListing(text.slice(0, 20)));
    live.change(0, 0, text);
    expect(live.read().diagnostics.map(({ rule }) => rule)).toEqual(['too-large']);
  });
});

describe('bytes that no machine has room for', () => {
  it('in one line are told before it is taken apart, and the others are read', () => {
    const text = `10 PRINT ${'1,'.repeat(8_000)}1\n20 PRNT\n`;
    const { listing, diagnostics } = readListing(text);
    expect(diagnostics.map(({ rule }) => rule)).toEqual(['line-too-long', 'no-such-command']);
    expect(listing.lines[0].codes).toHaveLength(0);
  });

  it('in all lines together end the reading', () => {
    const { listing, diagnostics } = readListing(lines(9000, 'REM LAMP AND LANTERN'));
    const size = listing.lines.reduce((sum, { codes }) => sum + codes.length, 0);
    expect(diagnostics.map(({ rule }) => rule)).toEqual(['too-large']);
    expect(size).toBeGreaterThan(65_536);
    expect(size).toBeLessThan(65_536 + 20);
  });

  it('from files are put into a line only as long as it has room', () => {
    let asked = 0;
    const include = () => {
      asked++;
      return new Uint8Array(30_000);
    };
    const text = `10 REM ${'[file "lamp.bin"]'.repeat(1000)}\n`;
    const { diagnostics } = readListing(text, { include });
    expect(asked).toBe(2);
    expect(diagnostics.map(({ rule }) => rule)).toEqual(['line-too-long']);
  });

  it('are no image', () => {
    expect(() => listingOfImage(new Uint8Array(65_537))).toThrow(NotAnImage);
  });
});
