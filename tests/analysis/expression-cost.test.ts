import { expect, it } from 'vitest';
import { statementCost } from '../../src/analysis/expression-cost.js';
import { ANY_NUMBER, ExpressionRanges } from '../../src/analysis/expression-ranges.js';
import { stepsOf } from '../../src/analysis/steps.js';
import { readListing } from '../../src/listing/read.js';

/** Every string has two characters; counts how often one is asked for. */
class Counting extends ExpressionRanges {
  asked = 0;
  named = () => ANY_NUMBER;
  elementLength = () => undefined;
  lengthOf = () => {
    this.asked++;
    return { low: 2, high: 2 };
  };
}

it('adds up the lengths of texts put together once, however many', () => {
  const parts = 900;
  const { listing } = readListing(`10 PRINT A$${'+A$'.repeat(parts - 1)}\n`);
  const ranges = new Counting();
  const { strings } = statementCost(stepsOf(listing)[0], ranges);
  // Each + leaves what it has put together until the statement ends.
  expect(strings).toBe(2 * ((parts * (parts + 1)) / 2 - 1));
  expect(ranges.asked).toBe(parts);
});
