import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  decodeNumber,
  LARGEST_NUMBER,
  NUMBER_SIZE,
  roundNumber,
  SMALLEST_NUMBER,
  writeNumber,
} from '../../src/machine/numbers.js';

const runs = process.env.FUZZ ? 1_000_000 : 3000;

/** The same rounding in plain arithmetic: slow, and easy to see through. */
function roundPlainly(value: number): number {
  const magnitude = Math.abs(value);
  if (magnitude < 2 ** -1022) return 0;
  if (!(magnitude < Infinity)) return Number.NaN;
  let exponent = Math.floor(Math.log2(magnitude)) + 1;
  if (magnitude >= 2 ** exponent) exponent++;
  if (magnitude < 2 ** (exponent - 1)) exponent--;
  const unit = 2 ** (exponent - 32);
  const rounded = Math.floor(magnitude / unit + 0.5) * unit;
  if (rounded > LARGEST_NUMBER) return Number.NaN;
  if (rounded < SMALLEST_NUMBER) return 0;
  return value < 0 ? -rounded : rounded;
}

/** Doubles of the machine's reach and a little beyond, with many that lie halfway. */
const drawn = fc.oneof(
  fc.double(),
  fc
    .tuple(fc.integer({ min: 0, max: 2 ** 33 }), fc.integer({ min: -175, max: 100 }), fc.boolean())
    .map(([mantissa, exponent, negative]) => (negative ? -1 : 1) * mantissa * 2 ** exponent),
  fc.integer(),
);

test('rounding is to 32 bits, halves away from zero, as in plain arithmetic', () => {
  fc.assert(
    fc.property(drawn, (value) => {
      expect(roundNumber(value)).toBe(roundPlainly(value));
    }),
    { numRuns: runs, seed: 1981 },
  );
});

test.each([
  [2 ** 127, Number.NaN],
  [LARGEST_NUMBER, LARGEST_NUMBER],
  [LARGEST_NUMBER + 2 ** 94, Number.NaN],
  [LARGEST_NUMBER + 2 ** 93, LARGEST_NUMBER],
  [-(2 ** 127), Number.NaN],
  [Infinity, Number.NaN],
  [Number.NaN, Number.NaN],
  [SMALLEST_NUMBER, SMALLEST_NUMBER],
  [SMALLEST_NUMBER * (1 - 2 ** -33), SMALLEST_NUMBER],
  [SMALLEST_NUMBER * (1 - 2 ** -31), 0],
  [-0, 0],
  [2 ** 32 - 0.5, 2 ** 32],
  [4294967295.25, 4294967295],
])('%d rounds to %d', (value, rounded) => {
  expect(roundNumber(value)).toBe(rounded);
});

test('what is written is read back exactly', () => {
  fc.assert(
    fc.property(drawn, (value) => {
      const rounded = roundNumber(value);
      fc.pre(!Number.isNaN(rounded));
      const bytes = new Uint8Array(NUMBER_SIZE + 2).fill(0xaa);
      writeNumber(rounded, bytes, 1);
      expect(decodeNumber(bytes, 1)).toBe(rounded);
      expect([bytes[0], bytes[NUMBER_SIZE + 1]]).toEqual([0xaa, 0xaa]);
    }),
    { numRuns: runs, seed: 1982 },
  );
});

test('what is smaller than any number is 0, with all its bits or without', () => {
  for (const tiny of [2 ** -129, 2 ** -130, 2 ** -200, 1e-50, 1e-300, Number.MIN_VALUE]) {
    expect([roundNumber(tiny * 0.9), roundNumber(-tiny * 0.7)]).toEqual([0, 0]);
  }
});

test('the ends of the numbers fill their bytes, and 0 has none set wherever it stands', () => {
  const bytes = new Uint8Array(15).fill(0xaa);
  writeNumber(LARGEST_NUMBER, bytes, 0);
  writeNumber(0, bytes, 5);
  writeNumber(-SMALLEST_NUMBER, bytes, 10);
  expect([...bytes]).toEqual([255, 0x7f, 255, 255, 255, 0, 0, 0, 0, 0, 1, 0x80, 0, 0, 0]);
});

test('what is not a number, or too large, is refused', () => {
  for (const value of [Number.NaN, Infinity, 2 ** 127]) {
    expect(() => writeNumber(value, new Uint8Array(5), 0)).toThrow(RangeError);
  }
});
