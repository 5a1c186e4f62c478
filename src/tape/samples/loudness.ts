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
    for (let i = 0; i < count; i++) {
      for (const channel of samples) {
        const height = Math.abs(channel[i]);
        if (height > this.peak) this.peak = height;
      }
      if (++this.filled === this.span) this.next();
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
