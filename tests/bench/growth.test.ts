import { describe, expect, it } from 'vitest';
import { drawerOf } from '../support/hostile.js';
import { FLOOR, GOAL, growth, timesOf } from './growth.js';

const SIZES = [1000, 4000, 16_000];

/** Seconds of work until all is compiled. */
const WARM = 0.3;

/** Runs that take as long as is said, by chance up to half as much more, and at first much more. */
function machine(seconds: (size: number) => number) {
  const draw = drawerOf(1);
  let worked = 0;
  return async (size: number): Promise<number> => {
    const took = seconds(size) * (1 + draw() / 2) * (worked < WARM ? 8 : 1);
    worked += took;
    return took;
  };
}

const grown = async (seconds: (size: number) => number): Promise<number> =>
  growth(SIZES, await timesOf(SIZES, machine(seconds)));

describe('the measure of growth', () => {
  it.each([
    ['linear', (size: number) => size * 1e-5],
    ['linear, after what is always done', (size: number) => 0.05 + size * 1e-5],
    ['n log n', (size: number) => size * Math.log2(size) * 1e-6],
    ['too short to be told from chance', (size: number) => size ** 2 * 1e-11],
  ])('is within the goal for what is %s', async (_, seconds) => {
    expect(await grown(seconds)).toBeLessThan(GOAL);
  });

  it.each([
    ['quadratic', (size: number) => size ** 2 * 1e-9],
    ['quadratic, and short at first', (size: number) => size ** 2 * 2e-10],
    ['quadratic in a part', (size: number) => size * 5e-6 + size ** 2 * 1e-9],
    ['n to the power of 1.4', (size: number) => size ** 1.4 * 1e-6],
  ])('is above it for what is %s', async (_, seconds) => {
    expect(await grown(seconds)).toBeGreaterThan(GOAL);
  });

  it('takes the least of what it sees, once that is settled', async () => {
    const times = await timesOf(
      SIZES,
      machine((size) => size * 1e-5),
    );
    for (const [at, size] of SIZES.entries()) {
      expect(times[at]).toBeGreaterThanOrEqual(size * 1e-5);
      expect(times[at]).toBeLessThan(size * 1.4e-5);
    }
  });

  it('counts what is shorter than its floor as the floor', () => {
    expect(growth([1, 4], [FLOOR / 100, FLOOR])).toBe(1 / 4);
    expect(growth([1, 4, 8], [1, 2, 6])).toBe(1.5);
  });
});
