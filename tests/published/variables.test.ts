/**
 * How variables are stored, byte by byte.
 * Source: S. Vickers, "BASIC Programming" (1981), chapter 27, from memory: the layout of each kind,
 * set down here by hand. Numbers in five bytes: I. Logan and F. O'Hara, the published ROM
 * disassembly (1982), its table of constants, from memory: ½, 1, π/2 and 10.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { areaBytes, areasOf } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { listingOfImage } from '../../src/image/read.js';
import { readListing } from '../../src/listing/read.js';
import { encodeVariable, sharedName } from '../../src/machine/variables.js';
import { drawVariable } from '../image/draw-image.js';

const A = 38;
const letter = (name: string) => name.charCodeAt(0) - 65 + A;
/** The first byte: three bits of kind, five of letter. */
const first = (kind: number, name: string) => (kind << 5) | (letter(name) - 32);
const letters = (text: string) => [...text].map(letter);

const HALF = [0x80, 0, 0, 0, 0];
const ONE = [0x81, 0, 0, 0, 0];
const TWO = [0x82, 0, 0, 0, 0];
const TEN = [0x84, 0x20, 0, 0, 0];
const MINUS_TEN = [0x84, 0xa0, 0, 0, 0];
const HALF_PI = [0x81, 0x49, 0x0f, 0xda, 0xa2];
const ZERO = [0, 0, 0, 0, 0];

const KINDS: [string, string, number[]][] = [
  ['a number with a name of one letter', '.var A = 0.5', [first(0b011, 'A'), ...HALF]],
  ['the last letter', '.var Z = 10', [first(0b011, 'Z'), ...TEN]],
  ['a number below zero', '.var M = -10', [first(0b011, 'M'), ...MINUS_TEN]],
  ['zero', '.var N = 0', [first(0b011, 'N'), ...ZERO]],
  [
    'a number with a longer name, bit 7 set on its last character',
    '.var LAMP2 = 1.5707963267',
    [first(0b101, 'L'), ...letters('AMP'), 30 + 128, ...HALF_PI],
  ],
  ['a name of two letters', '.var AB = 1', [first(0b101, 'A'), letter('B') + 128, ...ONE]],
  [
    'an array of numbers: length of the rest, dimensions, each dimension, each element',
    '.var B(2,3) = 1,2,10,0.5,0,-10',
    [
      first(0b100, 'B'),
      ...[1 + 2 * 2 + 6 * 5, 0],
      2,
      ...[2, 0, 3, 0],
      ...[...ONE, ...TWO, ...TEN, ...HALF, ...ZERO, ...MINUS_TEN],
    ],
  ],
  [
    'a FOR variable: value, limit, step, looping line, low byte first',
    '.var K for 1 to 10 step 2 at 1000',
    [first(0b111, 'K'), ...ONE, ...TEN, ...TWO, 1000 % 256, 3],
  ],
  [
    'a FOR variable with the usual step',
    '.var J for 0 to 10 at 40',
    [first(0b111, 'J'), ...ZERO, ...TEN, ...ONE, 40, 0],
  ],
  ['a string', '.var N$ = "OAK"', [first(0b010, 'N'), 3, 0, ...letters('OAK')]],
  ['an empty string', '.var E$ = ""', [first(0b010, 'E'), 0, 0]],
  [
    'an array of characters',
    '.var C$(2,4) = "NORTEAST"',
    [first(0b110, 'C'), 1 + 2 * 2 + 8, 0, 2, 2, 0, 4, 0, ...letters('NORTEAST')],
  ],
  [
    'an array of characters of one dimension, longer than a byte counts',
    `.var X$(300) = "${'X'.repeat(300)}"`,
    [first(0b110, 'X'), 303 % 256, 1, 1, 300 % 256, 1, ...letters('X'.repeat(300))],
  ],
];

function variablesOf(text: string): number[] {
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics).toEqual([]);
  const image = buildImage(listing).image!;
  return [...areaBytes(image, areasOf(image), 'VARS', 'E_LINE')];
}

it.each(KINDS)('%s', (_, directive, bytes) => {
  // Between VARS and the byte 128 that ends them.
  expect(variablesOf(`10 PRINT\n${directive}\n`)).toEqual([...bytes, 128]);
});

it('all of them one after another, in the order of the text', () => {
  const text = `10 PRINT\n${KINDS.map(([, directive]) => directive).join('\n')}\n`;
  expect(variablesOf(text)).toEqual([...KINDS.flatMap(([, , bytes]) => bytes), 128]);
});

it.each(KINDS)('%s, read back', (_, directive) => {
  const image = buildImage(readListing(`10 PRINT\n${directive}\n`).listing).image!;
  const { text } = listingOfImage(image);
  const again = buildImage(readListing(text).listing).image!;
  expect(again).toEqual(image);
  expect(text).toBe(`10 PRINT\n${directive}\n`);
});

/** Variables with names that do not come twice. */
const severalVariables = fc.uniqueArray(drawVariable, {
  minLength: 1,
  maxLength: 5,
  selector: sharedName,
});

it('any five bytes come back to the last bit, in every kind of variable', () => {
  fc.assert(
    fc.property(severalVariables, (variables) => {
      const bytes = variables.flatMap((variable) => [...encodeVariable(variable)]);
      const hex = bytes.map((byte) => byte.toString(16).padStart(2, '0')).join(' ');
      const listing = readListing(`.ram 16K\n10 PRINT\n.raw variables ${hex} 80\n`).listing;
      const image = buildImage(listing).image!;
      const { text } = listingOfImage(image);
      expect(text.match(/^\.var /gm)).toHaveLength(variables.length);
      expect(text).not.toMatch(/^\.raw/m);
      expect(variablesOf(text)).toEqual([...bytes, 128]);
    }),
    { numRuns: process.env.FUZZ ? 50_000 : 300, seed: 27 },
  );
});
