/** The manual, chapter 5, from memory. */
import { expect, test } from 'vitest';
import { nextSeed, SEEDS } from '../../../src/machine/arithmetic/random.js';

test('RND goes through all 65,536 values of SEED before one comes back', () => {
  const seen = new Set<number>();
  let seed = 0;
  do {
    seed = nextSeed(seed);
    seen.add(seed);
  } while (seed !== 0 && seen.size <= SEEDS);
  expect([seen.size, seen.has(0), seen.has(SEEDS - 1)]).toEqual([SEEDS, true, true]);
});

test('one more than SEED is 75 times one more than what it was, modulo 65537', () => {
  // The powers of 75: 75, 5625, 421875 = 6 · 65537 + 28653.
  expect(nextSeed(0)).toBe(74);
  expect(nextSeed(74)).toBe(5624);
  expect(nextSeed(5624)).toBe(28652);
});
