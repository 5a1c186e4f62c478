/** Images whose numbers were typed on the machine, and those whose numbers are the nearest. */
import { describe, expect, test } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { compareImages } from '../../src/image/compare.js';
import { plainListing } from '../../src/image/plain.js';
import { listingOfImage } from '../../src/image/read.js';
import { keysOfListing } from '../../src/keys/keys.js';
import { formatListing } from '../../src/listing/format.js';
import { readListing } from '../../src/listing/read.js';

const built = (text: string): Uint8Array => buildImage(readListing(text).listing).image!;
const hexOf = (text: string): string => Buffer.from(built(text)).toString('hex').toUpperCase();
const back = (text: string): string => listingOfImage(built(text)).text;

const DECIMALS = '10 LET A=.5\n20 LET B=.1\n30 LET C=7\n';

describe('what a literal stores', () => {
  test('what typing it stores, without a word about it', () => {
    expect(hexOf('10 LET A=.5')).toContain('7E7F7FFFFFFF');
    expect(back(DECIMALS)).toBe(DECIMALS);
  });

  test('the nearest number, where the listing says so, before or after its lines', () => {
    expect(hexOf('.numbers nearest\n10 LET A=.5')).toContain('7E8000000000');
    expect(hexOf('10 LET A=.5\n.numbers nearest')).toContain('7E8000000000');
    expect(back(`.numbers nearest\n${DECIMALS}`)).toBe(`.numbers nearest\n${DECIMALS}`);
  });

  test('whole numbers need no word', () => {
    expect(back('.numbers nearest\n10 LET A=700\n')).toBe('10 LET A=700\n');
  });

  test('a mixture keeps the fewer exceptions in brackets', () => {
    const mostlyTyped = '10 LET A=.5\n20 LET B=.1\n30 LET C=.25[=7F 00 00 00 00]\n';
    expect(back(mostlyTyped)).toBe(mostlyTyped);
    const mostlyNearest =
      '.numbers nearest\n10 LET A=.5\n20 LET B=.1\n30 LET C=.25[=7E 7F FF FF FF]\n';
    expect(back(mostlyNearest)).toBe(mostlyNearest);
  });
});

describe('what else reads it', () => {
  const typed = built(DECIMALS);
  const nearest = built(`.numbers nearest\n${DECIMALS}`);

  test('a saved variable was worked out: its decimals are the nearest number', () => {
    expect(hexOf('10 REM\n.var A = .5')).toContain('8000000000');
    expect(back('10 REM\n.var A = 0.5\n')).toBe('10 REM\n.var A = 0.5\n');
  });

  test('a comparison shows the values that differ', () => {
    const { lines } = compareImages(typed, nearest);
    expect(lines.map(({ key, b }) => [key, b])).toEqual([
      ['10', '10 LET A=.5[=80 00 00 00 00]'],
      ['20', '20 LET B=.1[=7D 4C CC CC CD]'],
    ]);
  });

  test('the tidy form keeps the directive', () => {
    const text = '10 let a=.5\n.numbers nearest\n';
    expect(formatListing(readListing(text))).toBe('.numbers nearest\n10 LET A=.5\n');
  });

  test('a page for people says what it leaves out', () => {
    const { listing } = listingOfImage(nearest);
    const { text, leftOut } = plainListing(listing);
    expect(text).toBe('  10 LET A=.5\n  20 LET B=.1\n  30 LET C=7\n');
    expect(leftOut.join()).toMatch(/nearest numbers/);
  });

  test('typing it would store other numbers', () => {
    const { lines } = keysOfListing(readListing(`.numbers nearest\n${DECIMALS}`).listing);
    expect(lines.map(({ outOfReach }) => outOfReach.length)).toEqual([1, 1, 0]);
  });

  test('anything but nearest is refused, and so is saying it twice', () => {
    const messages = (text: string) => readListing(text).diagnostics.map(({ message }) => message);
    expect(messages('.numbers exact\n10 CLS')).toEqual(['nearest belongs here']);
    expect(messages('.numbers nearest\n.numbers nearest\n10 CLS')).toEqual([
      '.numbers is given twice',
    ]);
  });
});
