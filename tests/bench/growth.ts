/**
 * How the time of something grows with the size of what it works on. A ratio of 1 is linear.
 *
 * Chance only ever makes a run longer: the least of several samples counts, the sizes taken in turns,
 * until none gets less any more. By then the code is compiled as well, which would otherwise make the
 * sizes that come first look slow, and hide how the rest grows.
 */

/** Ratios above this are too high. */
export const GOAL = 1.3;
/** Seconds: what takes less counts as this, as chance has too large a part in it. */
export const FLOOR = 0.005;
/** Seconds that a sample lasts, of one run or more. */
const LONG = 0.04;
/** Rounds without a change until a time is settled: more of them where it seems too much. */
const SETTLED = 2;
const SETTLED_ABOVE = 5;
const MOST_ROUNDS = 30;
/** A time that is less by a smaller part than this has not changed. */
const CHANGE = 0.03;
/** Seconds that all samples may take; where a round alone takes so long, there are FEW. */
const ENOUGH = 12;
const FEW = 3;

/**
 * Gives the least seconds of a run for each size; `run` works once on a size and says how long it took,
 * `before` is done before each sample.
 */
export async function timesOf(
  sizes: readonly number[],
  run: (size: number) => Promise<number>,
  before: () => void = () => {},
): Promise<number[]> {
  const least = sizes.map(() => Number.POSITIVE_INFINITY);
  let all = 0;
  for (let round = 0, settled = 0; round < MOST_ROUNDS; round++) {
    if (least.every((time) => time < FLOOR)) break;
    if (settled >= (growth(sizes, least) > GOAL ? SETTLED_ABOVE : SETTLED)) break;
    if (round >= FEW && all > ENOUGH) break;
    settled++;
    for (const [at, size] of sizes.entries()) {
      before();
      let sum = 0;
      let runs = 0;
      for (; sum < LONG; runs++) sum += await run(size);
      all += sum;
      const mean = sum / runs;
      if (mean < least[at] * (1 - CHANGE)) settled = 0;
      least[at] = Math.min(least[at], mean);
    }
  }
  return least;
}

/**
 * The worst step: how many times the time grows, by how many times the size does. What is below the
 * floor counts as the floor.
 */
export function growth(sizes: readonly number[], times: readonly number[], floor = FLOOR): number {
  const steps = times.slice(1).map((time, at) => {
    const grown = Math.max(time, floor) / Math.max(times[at], floor);
    return grown / (sizes[at + 1] / sizes[at]);
  });
  return Math.max(...steps);
}
