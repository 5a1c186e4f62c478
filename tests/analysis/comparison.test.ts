/** Comparisons of ranges, held against the machine's own of numbers in them. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { compared } from '../../src/analysis/comparison.js';
import { range } from '../../src/analysis/expression-ranges.js';
import { readListing } from '../../src/listing/read.js';
import { numberOfDecimal } from '../../src/machine/arithmetic/decimal.js';
import { divide } from '../../src/machine/arithmetic/operations.js';
import { budgetOf } from '../../src/memory/budget.js';
import { difference } from '../../src/rehearsal/language/results.js';

const OPERATORS = ['=', '<>', '<', '>', '<=', '>='];

/** Numbers that lie close together. */
const numbers = fc.oneof(
  fc.integer({ min: -3, max: 3 }),
  fc.integer({ min: 1, max: 12 }).map((by) => divide(1, by)),
  fc.constantFrom('.5', '.1', '.25', '.2', '.3333333333').map(numberOfDecimal),
  fc.constantFrom(2 ** 31, 2 ** 32, 2 ** 32 - 1, 1 - 2 ** -32, 1 + 2 ** -31),
);

function byMachine(operator: string, a: number, b: number): boolean {
  switch (operator) {
    case '=':
      return difference(a, b) === 0;
    case '<>':
      return difference(a, b) !== 0;
    case '<':
      return difference(b, a) > 0;
    case '>=':
      return !(difference(b, a) > 0);
    case '>':
      return difference(a, b) > 0;
    default:
      return !(difference(a, b) > 0);
  }
}

const rangeOf = (a: number, b: number) =>
  range(Math.min(a, b), Math.max(a, b), Number.isInteger(a) && Number.isInteger(b));

it('hold whatever the machine finds', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...OPERATORS),
      numbers,
      numbers,
      numbers,
      numbers,
      (operator, a, b, c, d) => {
        const found = compared(operator, rangeOf(a, b), rangeOf(c, d));
        const value = byMachine(operator, a, c) ? 1 : 0;
        expect(found.low).toBeLessThanOrEqual(value);
        expect(found.high).toBeGreaterThanOrEqual(value);
      },
    ),
    { seed: 9, numRuns: process.env.FUZZ ? 500_000 : 5000 },
  );
});

it('know that .5=1/2 and 1/2<>.5', () => {
  const half = numberOfDecimal('.5');
  expect(compared('=', range(half, half, false), range(0.5, 0.5, false))).toEqual(range(1));
  expect(compared('=', range(0.5, 0.5, false), range(half, half, false))).toEqual(range(0));
  const text = '10 LET X=.5\n20 IF X=1/2 THEN DIM A(300)';
  // The array is made, and 1,500 bytes are not there.
  expect(budgetOf(readListing(text).listing, { ram: 1024 }).runs.verdict).not.toBe('fits');
});
