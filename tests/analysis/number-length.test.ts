/** How long a number of a range can be printed, held against the text of every number tried. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { lengthOfNumber } from '../../src/analysis/number-length.js';
import { numberText } from '../../src/machine/arithmetic/digits.js';
import { multiply } from '../../src/machine/arithmetic/operations.js';

const of = (low: number, high: number) => lengthOfNumber({ low, high, whole: false, moves: false });

/** Numbers of the machine, of every size, about powers of ten too. */
const numbers = fc
  .record({
    power: fc.integer({ min: -9, max: 14 }),
    near: fc.integer({ min: -40, max: 40 }),
    factor: fc.constantFrom(1, 1, 1.5, 2.25, 2.71, 9.9),
    negative: fc.boolean(),
  })
  .map(({ power, near, factor, negative }) => {
    const value = multiply(Math.fround(10 ** power), Math.fround(factor));
    const unit = 2 ** (Math.floor(Math.log2(value)) - 31);
    return (negative ? -1 : 1) * (value + near * unit);
  });

it('is never less than what is printed', () => {
  fc.assert(
    fc.property(numbers, numbers, (value, other) => {
      const { low, high } = of(Math.min(value, other), Math.max(value, other));
      const { length } = numberText(value);
      expect(length).toBeLessThanOrEqual(high);
      expect(length).toBeGreaterThanOrEqual(low);
    }),
    { seed: 5, numRuns: process.env.FUZZ ? 500_000 : 2000 },
  );
});

it('is exact for one number, and follows the size of others', () => {
  expect(of(0.5, 0.5)).toEqual({ low: 3, high: 3 });
  expect(of(1, 100).high).toBe(9);
  expect(of(0, 100).high).toBe(13);
  expect(of(-Infinity, Infinity).high).toBe(14);
});
