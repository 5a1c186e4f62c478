import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { add, divide, multiply, subtract } from '../../../src/machine/arithmetic/operations.js';
import { decodeNumber, NUMBER_SIZE, writeNumber } from '../../../src/machine/numbers.js';
import {
  addBytes,
  divideBytes,
  type FiveBytes,
  multiplyBytes,
  type Result,
  subtractBytes,
} from './bit-serial.js';

const RUNS = process.env.FUZZ ? 1_000_000 : 3000;

const byte = fc.integer({ min: 0, max: 255 });
const wide = fc.integer({ min: 1, max: 255 });
/** Exponents that lie so close that operands meet, and those at the ends of what there is. */
const close = fc.integer({ min: 110, max: 150 });
const atEnds = fc.constantFrom(1, 2, 3, 33, 34, 64, 65, 127, 128, 129, 191, 192, 254, 255);
/** Bytes of mantissas whose ends are likely: all ones, all zeros. */
const likely = fc.oneof(byte, fc.constantFrom(0, 0, 1, 0x7f, 0x80, 0xfe, 0xff, 0xff));
const whole = fc.integer().map(bytesOf);

const number: fc.Arbitrary<FiveBytes> = fc.oneof(
  fc.tuple(wide, byte, byte, byte, byte),
  fc.tuple(close, byte, byte, byte, byte),
  fc.tuple(fc.oneof(close, atEnds), likely, likely, likely, likely),
  whole,
  fc.constant([0, 0, 0, 0, 0]),
);

function bytesOf(value: number): FiveBytes {
  const bytes = new Uint8Array(NUMBER_SIZE);
  writeNumber(value, bytes, 0);
  return [...bytes];
}

const decoded = (bytes: FiveBytes): number => decodeNumber(Uint8Array.from(bytes));
const resultOf = (value: number): Result => (Number.isNaN(value) ? undefined : bytesOf(value));

describe('against the same a bit at a time', () => {
  test.each<[string, (a: number, b: number) => number, (a: FiveBytes, b: FiveBytes) => Result]>([
    ['sum', add, addBytes],
    ['difference', subtract, subtractBytes],
    ['product', multiply, multiplyBytes],
    ['quotient', divide, divideBytes],
  ])('every %s has the same five bytes', (_, quick, serial) => {
    fc.assert(
      fc.property(number, number, (a, b) => {
        const found = quick(decoded(a), decoded(b));
        expect(Object.is(found, -0)).toBe(false);
        expect(resultOf(found)).toEqual(serial(a, b));
      }),
      { numRuns: RUNS, seed: 1755 },
    );
  });
});

test('products just below the smallest number become it, with their sign; those below its half are 0', () => {
  const smallest = 2 ** -128;
  expect(multiply(1.5 * 2 ** -65, 2 ** -64)).toBe(smallest);
  expect(multiply(-1.5 * 2 ** -65, 2 ** -64)).toBe(-smallest);
  expect(multiply(1.5 * 2 ** -66, 2 ** -64)).toBe(0);
  // Products of more bits than a double has, which round it both up and down.
  for (let k = 0; k < 20; k++) {
    const [a, b] = [0xa6666667 * 2 ** -96, (0xffffffff - 2 * k) * 2 ** -96];
    expect(multiply(a, b)).toBe(smallest);
  }
});
