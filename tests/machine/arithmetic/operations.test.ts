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

test('a sum or a product of 2^127 or more is report 6, and the largest number is none', () => {
  expect(add(2 ** 126, 2 ** 126)).toBeNaN();
  expect(subtract(-(2 ** 126), 2 ** 126)).toBeNaN();
  expect(multiply(2 ** 64, 2 ** 63)).toBeNaN();
  expect(multiply(2 ** 64, -(2 ** 64))).toBeNaN();
  expect(divide(2 ** 126, 0.5)).toBeNaN();
  expect(divide(2 ** 126, 2 ** -120)).toBeNaN();
  const largest = 2 ** 127 - 2 ** 95;
  expect(add(2 ** 126, 2 ** 126 - 2 ** 95)).toBe(largest);
  expect([multiply(largest, -1), divide(-largest, 1)]).toEqual([-largest, -largest]);
});

test('what is not below the divisor and what is not above it is exact where it can be', () => {
  expect(divide(-1.125, 1.5)).toBe(-0.75);
  expect(divide(1.125, -1.5)).toBe(-0.75);
  expect(divide(-1.5, 1.125 / 1.5)).toBe(-2);
  for (const b of [-1, -7, -0.3, 1, 0.3]) expect(Object.is(divide(0, b), 0)).toBe(true);
  expect(divide(2 ** -128, 2 ** 127)).toBe(0);
});

test('at the smallest exponent a product has 32 bits, as at any other', () => {
  for (const [a, b] of [
    [0xc0000001, 0xa0000001 * 2],
    [0xffffffff, 0xfffffffd],
  ]) {
    const product = multiply(a * 2 ** -95, b * 2 ** -96);
    expect(product).toBe(multiply(a, b) * 2 ** -191);
    expect([product >= 2 ** -128, product < 2 ** -127]).toEqual([true, true]);
  }
});

/** Operands whose result, as a double, lies just on a border that the true one does not reach. */
describe('where the double is a little more than the true result', () => {
  const same = (
    quick: (a: number, b: number) => number,
    serial: (a: FiveBytes, b: FiveBytes) => Result,
    pairs: readonly [number, number][],
  ) => {
    for (const [a, b] of pairs) {
      for (const [x, y] of [
        [a, b],
        [-a, b],
        [a, -b],
      ]) {
        expect([x, y, resultOf(quick(x, y))]).toEqual([x, y, serial(bytesOf(x), bytesOf(y))]);
      }
    }
  };

  test('a quotient that is cut off has the last bit less', () => {
    same(divide, divideBytes, [
      [0xb6f9b74c, 0xc90fdaa3],
      [0x99999996, 0xfffffffb],
      [0xffffffc8, 0xfffffffb],
    ]);
  });

  test('a quotient is not rounded up from less than half', () => {
    same(divide, divideBytes, [
      [0xb4444446, 0xa6666667],
      [0xf0fbf93c, 0xc90fdaa3],
      [0xc0000002, 0x80000001],
      [0xb63eb702, 0xb504f333],
    ]);
  });

  test('a product is not rounded up from less than half', () => {
    same(multiply, multiplyBytes, [
      [0xe78204df, 0xc90fdaa3],
      [0xffffffff, 0x80000001],
      [0x80000033, 0xfffffffb],
      [0xfd7bc005, 0xb504f333],
    ]);
  });

  test('a product below half the smallest number is 0', () => {
    // The product of the mantissas is 2^63 - 2; the double has no place for the 2.
    const [a, b] = [0xfffffffe * 2 ** -96, 0x80000001 * 2 ** -96];
    same(multiply, multiplyBytes, [[a, b]]);
    expect(multiply(a, b)).toBe(0);
    expect(multiply(2 ** -64, 2 ** -65)).toBe(2 ** -128);
  });
});
