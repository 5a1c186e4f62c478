/** How loud a recording is over time, in a few thousand values whatever its length. */
import type { Loudness } from '../reading/recovery.js';

/** Samples of the first values; it doubles whenever there are MOST of them. */
const FIRST_SPAN = 256;
const MOST = 4096;

export class LoudnessMeter {
  private peaks: number[] = [];
  private span = FIRST_SPAN;
  private filled = 0;
  private peak = 0;

  push(samples: readonly Float32Array[], count: number): void {
    for (let from = 0; from < count; ) {
      const to = Math.min(count, from + this.span - this.filled);
      for (const channel of samples) this.peak = Math.max(this.peak, highest(channel, from, to));
      this.filled += to - from;
      if (this.filled === this.span) this.next();
      from = to;
    }
  }

  /** @param rate samples a second */
  finish(rate: number): Loudness {
    if (this.filled > 0) this.next();
    return { seconds: this.span / rate, peaks: this.peaks };
  }

  private next(): void {
    this.peaks.push(this.peak);
    this.peak = 0;
    this.filled = 0;
    if (this.peaks.length < MOST) return;
    const halved: number[] = [];
    for (let i = 0; i < MOST; i += 2) halved.push(Math.max(this.peaks[i], this.peaks[i + 1]));
    this.peaks = halved;
    this.span *= 2;
  }
}

function highest(samples: Float32Array, from: number, to: number): number {
  let peak = 0;
  for (let i = from; i < to; i++) {
    const height = Math.abs(samples[i]);
    if (height > peak) peak = height;
  }
  return peak;
}
