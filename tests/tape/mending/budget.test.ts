/** What is unclear is tried as far as the budget goes, and no further. */
import { expect, it } from 'vitest';
import { Budget } from '../../../src/tape/mending/budget.js';
import { readPrograms } from '../../../src/tape/reading/program-reader.js';
import { bitsOf } from '../bits.js';
import { drawImage, drawName } from '../images.js';
import { verdictOn } from '../verdict.js';

const program = { name: drawName(3), image: drawImage(3, 400) };
/** Every 300th bit is the other one, and unclear. */
const heard = bitsOf(program).map((bit, i) =>
  i % 300 === 250 ? { ...bit, bit: (1 - bit.bit) as 0 | 1, sure: 0.1, other: bit.bit } : bit,
);

function read(budget: Budget) {
  return readPrograms(heard, 'mono', budget) as unknown as Parameters<typeof verdictOn>[0];
}

it.each([
  ['what its length allows', () => Budget.ofSeconds(30), false],
  ['almost nothing', () => new Budget(1e5), true],
  ['nothing', () => new Budget(0), true],
])('with a budget of %s no wrong byte is without a mark', (_, make, overdrawn) => {
  const budget = make();
  expect(verdictOn(read(budget), program)).not.toBe('silent');
  expect(budget.overdrawn).toBe(overdrawn);
});
