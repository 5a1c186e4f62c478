/** Of the algebra that numbers have, what the machine keeps and what it does not. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { numberOfDecimal } from '../../../src/machine/arithmetic/decimal.js';
import { digitsOf, numberText } from '../../../src/machine/arithmetic/digits.js';
import * as functions from '../../../src/machine/arithmetic/functions.js';
import { add, divide, multiply, subtract } from '../../../src/machine/arithmetic/operations.js';
import { roundNumber } from '../../../src/machine/numbers.js';

const runs = process.env.FUZZ ? 200_000 : 1000;
const check = <T>(property: fc.IProperty<T>): void =>
  fc.assert(property, { numRuns: runs, seed: 1881 });

const number = fc
  .tuple(
    fc.double({ min: 0.5, max: 1, noNaN: true }),
    fc.integer({ min: -40, max: 40 }),
    fc.boolean(),
  )
  .map(([mantissa, exponent, negative]) =>
    roundNumber((negative ? -1 : 1) * mantissa * 2 ** exponent),
  );

describe('kept', () => {
  test('a+b = b+a, and a*b = b*a', () => {
    check(
      fc.property(number, number, (a, b) => {
        expect(add(a, b)).toBe(add(b, a));
        expect(multiply(a, b)).toBe(multiply(b, a));
      }),
    );
  });

  test('a-a = 0, a+0 = a, a*1 = a, a/1 = a', () => {
    check(
      fc.property(number, (a) => {
        expect(subtract(a, a)).toBe(0);
        expect(add(a, 0)).toBe(a);
        expect(subtract(0, a)).toBe(0 - a);
        expect(multiply(a, 1)).toBe(a);
        expect(divide(a, 1)).toBe(a);
      }),
    );
  });

  test('whole numbers of 31 bits add, and those of 15 bits multiply, exactly', () => {
    const half = fc.integer({ min: -(2 ** 30), max: 2 ** 30 });
    const quarter = fc.integer({ min: -(2 ** 15), max: 2 ** 15 });
    check(
      fc.property(half, half, (a, b) => {
        expect(add(a, b)).toBe(a + b);
      }),
    );
    check(
      fc.property(quarter, quarter, (a, b) => {
        expect(multiply(a, b)).toBe(a * b + 0);
      }),
    );
  });

  test('every result lies within a unit of the last bit of the true one', () => {
    check(
      fc.property(number, number, (a, b) => {
        fc.pre(b !== 0);
        for (const [found, wanted] of [
          [multiply(a, b), a * b],
          [divide(a, b), a / b],
        ]) {
          expect(Math.abs(found - wanted)).toBeLessThanOrEqual(Math.abs(wanted) * 2 ** -31);
        }
        const largest = Math.max(Math.abs(a), Math.abs(b));
        expect(Math.abs(add(a, b) - (a + b))).toBeLessThanOrEqual(largest * 2 ** -30);
      }),
    );
  });
});

describe('not kept', () => {
  test('-(a+b) = (-a)+(-b): the lost bit goes up on either side of 0', () => {
    expect(add(1, 2 ** -32)).not.toBe(-add(-1, -(2 ** -32)));
  });

  test('a-b = 0 for a = b alone, and the same as b-a = 0', () => {
    const nearlyHalf = numberOfDecimal('.5');
    expect(subtract(nearlyHalf, 0.5)).toBe(0);
    expect(subtract(0.5, nearlyHalf)).toBeGreaterThan(0);
  });

  test('(a+b)+c = a+(b+c); a/b = a*(1/b); a/b*b = a', () => {
    const small = 2 ** -32;
    expect(add(add(1, small), small)).not.toBe(add(1, add(small, small)));
    expect(divide(3, 10)).not.toBe(multiply(3, divide(1, 10)));
    expect(multiply(divide(1, 10), 10)).not.toBe(1);
  });
});

describe('numbers in digits', () => {
  test('small whole numbers show as they are, the long way too', () => {
    check(
      fc.property(fc.integer({ min: 1, max: 99_999_999 }), (n) => {
        expect(numberText(n)).toBe(String(n));
        const { digits, power } = digitsOf(n);
        expect(digits.padEnd(power + 1, '0')).toBe(String(n));
      }),
    );
  });

  test('eight digits are right to within one in the last', () => {
    check(
      fc.property(number, (n) => {
        fc.pre(n !== 0);
        const shown = Number(numberText(n));
        expect(Math.abs(shown - n)).toBeLessThanOrEqual(Math.abs(n) * 1.01e-7);
      }),
    );
  });
});

describe('functions are as near to the true ones as their docstring says', () => {
  const within = (units: number, found: number, wanted: number, least = 0): void =>
    expect(Math.abs(found - wanted)).toBeLessThanOrEqual(
      Math.max(Math.abs(wanted), least) * units * 2 ** -32,
    );
  const between = (min: number, max: number) =>
    fc.double({ min, max, noNaN: true }).map(roundNumber);

  test('SIN, COS and ATN, EXP and LN near the middle', () => {
    check(
      fc.property(between(-3, 3), (x) => {
        within(16, functions.sine(x), Math.sin(x), 1);
        within(16, functions.cosine(x), Math.cos(x), 1);
        within(8, functions.arcTangent(x), Math.atan(x), 0.5);
        within(16, functions.exponential(x), Math.exp(x));
      }),
    );
    check(
      fc.property(between(0.01, 100), (x) => {
        within(8, functions.logarithm(x), Math.log(x), 1);
        within(64, functions.squareRoot(x), Math.sqrt(x));
      }),
    );
  });
});
