/** How loud a recording comes in, in words. */

/** Peaks, of 1, between which the level is good; below the first there is nothing to hear. */
const SILENT = 0.01;
const SOFT = 0.06;
const LOUD = 0.985;

export type Level = 'nothing heard' | 'too quiet' | 'good' | 'too loud';

/** What is said of the highest sample of a moment, 0 to 1. */
export function levelOf(peak: number): Level {
  if (peak < SILENT) return 'nothing heard';
  if (peak < SOFT) return 'too quiet';
  return peak < LOUD ? 'good' : 'too loud';
}
