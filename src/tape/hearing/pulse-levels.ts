/**
 * Says for each step how much it looks like a pulse (1) or a rest (−1), and how fast the tape runs
 * there. Both look a little to each side, so they need steps beyond those that they are asked for.
 */
import { FASTEST, PULSE_HZ, SLOWEST } from '../../machine/tape-signal.js';
import { STEPS_A_SECOND } from './carrier.js';

/** Steps on each side within which every program has both pulses and a rest. */
const NEAR = Math.round(0.012 * STEPS_A_SECOND);
/** Steps of a window that reaches so far on both. */
const WINDOW = 2 * NEAR + 1;
/** Steps on each side that show how loud the tape is hereabouts. */
const AROUND = Math.round(0.15 * STEPS_A_SECOND);
/** Steps on each side over which the speed is taken. */
const SPEED_REACH = Math.round(0.02 * STEPS_A_SECOND);
/** Steps after which the speed is taken anew. */
const SPEED_EVERY = 8;
/** Steps over which the pulses' turning is measured: well within the shortest run of pulses. */
const LEAP = 6;
/** Steps on each side over which the strength is evened out: less than a rest. */
const EVEN = 2;
/** Nearer contrast than this between pulse and rest is trusted less. */
const FULL_CONTRAST = 0.5;
/** Where it is this much softer than around, the tape has a hole and says nothing. */
const HOLE = 0.3;

/** What is by this factor beyond one of these is so without a closer look. */
const CLEARLY = 1.01;

/** Steps that the functions here look ahead and back. */
export const LOOK = AROUND + NEAR;

export interface PulseLevels {
  /** −1 (surely a rest) to 1 (surely a pulse); 0 says nothing. */
  readonly soft: Float32Array;
  /** Speed of the tape against the machine's own. */
  readonly speed: Float32Array;
  /** Strength of the pulses' pitch, in the samples' own units. */
  readonly strength: Float32Array;
  /** Its two parts, of which the phase follows. */
  readonly re: Float32Array;
  readonly im: Float32Array;
  /** Strength of a pulse here and of a rest. */
  readonly high: Float32Array;
  readonly low: Float32Array;
}

/** Works out the levels of one block after the other. Its arrays are large, and serve all of them. */
export class PulseMeter {
  private readonly levels: Omit<PulseLevels, 're' | 'im'>;
  private readonly even: Float32Array;
  private readonly around: Float32Array;
  private readonly rough: Float32Array;
  private readonly fine: Float32Array;
  private readonly sums: readonly [Float64Array, Float64Array];
  private readonly since: Float32Array;

  /** @param most steps of the longest block */
  constructor(most: number) {
    const row = () => new Float32Array(most);
    this.levels = { soft: row(), speed: row(), strength: row(), high: row(), low: row() };
    [this.even, this.around] = [row(), row()];
    const parts = () => new Float32Array(Math.ceil(most / SPEED_EVERY));
    [this.rough, this.fine] = [parts(), parts()];
    this.sums = [new Float64Array(most + 1), new Float64Array(most + 1)];
    this.since = row();
  }

  /** The levels of the first `count` steps; they stand until the next block is measured. */
  measure(re: Float32Array, im: Float32Array, count: number): PulseLevels {
    const { levels, even, around } = this;
    const { soft, strength, high, low } = levels;
    for (let i = 0; i < count; i++) strength[i] = Math.sqrt(re[i] * re[i] + im[i] * im[i]);
    this.average(strength, count, EVEN, even);
    this.extreme(even, count, 1, high);
    this.extreme(even, count, -1, low);
    this.average(high, count, AROUND, around);
    for (let i = 0; i < count; i++) {
      const top = high[i];
      const bottom = low[i];
      const usual = around[i];
      if (top <= 0 || usual <= 0) {
        soft[i] = 0;
        continue;
      }
      const span = top - bottom;
      const side = (2 * (strength[i] - bottom)) / span - 1;
      let level = Math.max(-1, Math.min(1, 1.5 * side));
      // Nearly everywhere both are far from being less than 1, and dividing takes time.
      if (span < CLEARLY * FULL_CONTRAST * top) level *= Math.min(1, span / top / FULL_CONTRAST);
      if (top < CLEARLY * HOLE * usual) {
        const present = Math.min(1, top / usual / HOLE);
        level = level * present * present;
      }
      soft[i] = level;
    }
    this.tapeSpeed(re, im, count);
    return { ...levels, re, im };
  }

  /** Mean over `reach` steps on each side (fewer at the ends). */
  private average(values: Float32Array, count: number, reach: number, result: Float32Array): void {
    const [sums] = this.sums;
    let sum = 0;
    sums[0] = 0;
    for (let i = 0; i < count; i++) {
      sum += values[i];
      sums[i + 1] = sum;
    }
    const mean = (from: number, to: number) => (sums[to] - sums[from]) / (to - from);
    const first = Math.min(reach, count);
    const last = Math.max(first, count - reach);
    for (let i = 0; i < first; i++) result[i] = mean(0, Math.min(count, i + reach + 1));
    const all = 2 * reach + 1;
    for (let i = first; i < last; i++) result[i] = (sums[i + reach + 1] - sums[i - reach]) / all;
    for (let i = last; i < count; i++) result[i] = mean(i - reach, count);
  }

  /** The largest (sign 1) or smallest (sign −1) value within NEAR steps on each side. */
  private extreme(values: Float32Array, count: number, sign: 1 | -1, result: Float32Array): void {
    const { since } = this;
    // From the beginning of each stretch of a window's length to each step of it …
    let best = 0;
    for (let i = 0, place = 0; i < count; i++) {
      const value = sign * values[i];
      if (place === 0 || value > best) best = value;
      since[i] = best;
      place = place + 1 === WINDOW ? 0 : place + 1;
    }
    for (let i = 0; i < Math.min(NEAR, count); i++) {
      result[i] = sign * since[Math.min(count - 1, i + NEAR)];
    }
    // … and from each step to its end: a window is the end of one stretch and the beginning of the next.
    let end = count - 1;
    let until = sign * values[end];
    for (let i = count - 1; i >= 0; i--) {
      const value = sign * values[i];
      if (value > until) until = value;
      if (i + NEAR < count) {
        const last = Math.min(count - 1, i + 2 * NEAR);
        result[i + NEAR] = sign * (last > end ? Math.max(until, since[last]) : until);
      }
      if (i % WINDOW === 0) {
        end = i - 1;
        until = Number.NEGATIVE_INFINITY;
      }
    }
  }

  /**
   * Speed from how far the pulses' phase turns, weighed by their strength: over one step for a rough
   * value without doubt about whole turns, then over LEAP steps, where the ends of bursts, which pull
   * the pitch towards the filter's own, count for less.
   */
  private tapeSpeed(re: Float32Array, im: Float32Array, count: number): void {
    const { rough, fine } = this;
    const { speed } = this.levels;
    this.turns(re, im, count, 1, rough);
    this.turns(re, im, count, LEAP, fine);
    const perTurn = STEPS_A_SECOND / PULSE_HZ;
    for (let i = 0, part = 0; i < count; i += SPEED_EVERY, part++) {
      const whole = Math.round(LEAP * rough[part] - fine[part]);
      const turn = (whole + fine[part]) / LEAP;
      const own = Math.min(FASTEST, Math.max(SLOWEST, turn * perTurn));
      const to = Math.min(count, i + SPEED_EVERY);
      for (let step = i; step < to; step++) speed[step] = own;
    }
  }

  /** How far the phase turns in `lag` steps, as a part of a turn (−½ to ½), around each SPEED_EVERYth step. */
  private turns(
    re: Float32Array,
    im: Float32Array,
    count: number,
    lag: number,
    result: Float32Array,
  ): void {
    const [sumRe, sumIm] = this.sums;
    const begin = Math.min(lag, count);
    sumRe.fill(0, 0, begin + 1);
    sumIm.fill(0, 0, begin + 1);
    let allRe = 0;
    let allIm = 0;
    // Numbers by themselves here: pairs of them are made anew, and thrown away, for every step.
    for (let i = begin; i < count; i++) {
      const ownRe = re[i];
      const ownIm = im[i];
      const pastRe = re[i - lag];
      const pastIm = im[i - lag];
      allRe = allRe + ownRe * pastRe + ownIm * pastIm;
      allIm = allIm + ownIm * pastRe - ownRe * pastIm;
      sumRe[i + 1] = allRe;
      sumIm[i + 1] = allIm;
    }
    for (let i = 0, part = 0; i < count; i += SPEED_EVERY, part++) {
      const from = Math.max(0, i - SPEED_REACH);
      const to = Math.min(count, i + SPEED_REACH + 1);
      result[part] = Math.atan2(sumIm[to] - sumIm[from], sumRe[to] - sumRe[from]) / (2 * Math.PI);
    }
  }
}
