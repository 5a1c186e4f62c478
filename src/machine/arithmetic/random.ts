/**
 * RND: a cycle of all 65,536 values that SEED can have.
 * Source: S. Vickers, "BASIC Programming" (1981), chapter 5, from memory.
 */

/** Values of SEED: 0 to one less than this. RND is SEED divided by it. */
export const SEEDS = 65536;
const FACTOR = 75;
const MODULUS = 65537;

/** What SEED holds after RND, by what it held before. */
export function nextSeed(seed: number): number {
  return ((FACTOR * (seed + 1)) % MODULUS) - 1;
}
