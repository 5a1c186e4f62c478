/**
 * The same sound with its peaks cut off, for what is hard to hear. Coding that saves bits, and crackles,
 * put peaks into it that are many times as high as the signal, and drown the rests of a pulse's length
 * around them. Cut far below the signal's own height they are no louder than it; where the rests are
 * noisy throughout, this does harm, so it is for what is not heard well without.
 */
import { CarrierFilter, STEPS_A_SECOND } from './carrier.js';

/** Of the usual height of the sound, so much is left. */
const LIMIT = 0.15;
/** What is lower than this part of all but the highest samples is silence. */
const SILENCE = 0.05;
/** Samples by which the usual height is known. */
const LOOKED_AT = 4000;
/** Samples that come at once, at most; so many are kept before the first step that may be asked for as well. */
export const PIECE = 4096;

/** The samples of the block in hand. */
export class KeptSamples {
  private samples: Float32Array;
  private used = 0;
  private first = 0; // number of the first sample that is kept

  /** @param steps that may be asked for at once */
  constructor(
    private readonly rate: number,
    steps: number,
  ) {
    this.samples = new Float32Array(Math.ceil((steps / STEPS_A_SECOND) * rate) + 4 * PIECE);
  }

  /** The next samples, PIECE of them at most. */
  push(samples: Float32Array, count: number): void {
    this.samples.set(samples.subarray(0, count), this.used);
    this.used += count;
  }

  /** Lets go of what lies before a step. */
  keepFrom(step: number): void {
    const from = Math.floor((step / STEPS_A_SECOND) * this.rate) - PIECE - this.first;
    if (from <= 0) return;
    this.samples.copyWithin(0, from, this.used);
    this.used -= from;
    this.first += from;
  }

  /** Strength and phase of the pulses' pitch with the peaks cut off, for so many steps from `step` on. */
  limited(step: number, count: number): { re: Float32Array; im: Float32Array } {
    const { rate, samples, used, first } = this;
    const [re, im] = [new Float32Array(count), new Float32Array(count)];
    let at = 0;
    const take = (stepRe: number, stepIm: number) => {
      if (at < count) [re[at], im[at]] = [stepRe, stepIm];
      at++;
    };
    const begin = (step / STEPS_A_SECOND) * rate - first;
    const filter = new CarrierFilter(rate, take, begin);
    const limit = LIMIT * usualHeight(samples, Math.floor(Math.max(0, begin)), used);
    const piece = new Float32Array(PIECE);
    for (let from = 0; from < used; from += PIECE) {
      const size = Math.min(PIECE, used - from);
      for (let i = 0; i < size; i++) {
        piece[i] = Math.max(-limit, Math.min(limit, samples[from + i]));
      }
      filter.push(piece, size);
    }
    filter.finish();
    return { re, im };
  }
}

/** Of what is not silence. */
function usualHeight(samples: Float32Array, from: number, to: number): number {
  const every = Math.max(1, Math.floor((to - from) / LOOKED_AT));
  const heights: number[] = [];
  for (let i = from; i < to; i += every) heights.push(Math.abs(samples[i]));
  heights.sort((a, b) => a - b);
  const silence = SILENCE * (heights[Math.floor(0.99 * heights.length)] ?? 0);
  const loud = heights.filter((height) => height > silence);
  return loud[loud.length >> 1] ?? 0;
}
