/**
 * Says for each step how much it looks like a pulse (1) or a rest (−1), and how fast the tape runs
 * there. Both look a little to each side, so they need steps beyond those that they are asked for.
 */
import { FASTEST, PULSE_HZ, SLOWEST } from '../../machine/tape-signal.js';
import { STEPS_A_SECOND } from './carrier.js';

/** Steps on each side within which every program has both pulses and a rest. */
const NEAR = Math.round(0.012 * STEPS_A_SECOND);
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
  private readonly queue: Int32Array;

  /** @param most steps of the longest block */
  constructor(most: number) {
    const row = () => new Float32Array(most);
    this.levels = { soft: row(), speed: row(), strength: row(), high: row(), low: row() };
    [this.even, this.around, this.rough, this.fine] = [row(), row(), row(), row()];
    this.sums = [new Float64Array(most + 1), new Float64Array(most + 1)];
    this.queue = new Int32Array(most);
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
      soft[i] = 0;
      const span = high[i] - low[i];
      if (high[i] <= 0 || around[i] <= 0) continue;
      const side = (2 * (strength[i] - low[i])) / span - 1;
      const contrast = Math.min(1, span / high[i] / FULL_CONTRAST);
      const present = Math.min(1, high[i] / around[i] / HOLE);
      soft[i] = Math.max(-1, Math.min(1, 1.5 * side)) * contrast * present * present;
    }
    this.tapeSpeed(re, im, count);
    return { ...levels, re, im };
  }

  /** Mean over `reach` steps on each side (fewer at the ends). */
  private average(values: Float32Array, count: number, reach: number, result: Float32Array): void {
    const [sums] = this.sums;
    sums[0] = 0;
    for (let i = 0; i < count; i++) sums[i + 1] = sums[i] + values[i];
    for (let i = 0; i < count; i++) {
      const from = Math.max(0, i - reach);
      const to = Math.min(count, i + reach + 1);
      result[i] = (sums[to] - sums[from]) / (to - from);
    }
  }

  /** The largest (sign 1) or smallest (sign −1) value within NEAR steps on each side. */
  private extreme(values: Float32Array, count: number, sign: 1 | -1, result: Float32Array): void {
    const { queue } = this; // places of values that can still be the extreme
    let [head, tail, next] = [0, 0, 0];
    for (let i = 0; i < count; i++) {
      for (; next < count && next <= i + NEAR; next++) {
        while (tail > head && sign * values[queue[tail - 1]] <= sign * values[next]) tail--;
        queue[tail++] = next;
      }
      while (queue[head] < i - NEAR) head++;
      result[i] = values[queue[head]];
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
    for (let i = 0; i < count; i++) {
      const whole = Math.round(LEAP * rough[i] - fine[i]);
      const turn = (whole + fine[i]) / LEAP;
      speed[i] = Math.min(FASTEST, Math.max(SLOWEST, turn * perTurn));
    }
  }

  /** How far the phase turns in `lag` steps, as a part of a turn (−½ to ½), around each step. */
  private turns(
    re: Float32Array,
    im: Float32Array,
    count: number,
    lag: number,
    result: Float32Array,
  ): void {
    const [sumRe, sumIm] = this.sums;
    sumRe[0] = 0;
    sumIm[0] = 0;
    for (let i = 0; i < count; i++) {
      const past = i - lag;
      const pastRe = past >= 0 ? re[past] : 0;
      const pastIm = past >= 0 ? im[past] : 0;
      sumRe[i + 1] = sumRe[i] + re[i] * pastRe + im[i] * pastIm;
      sumIm[i + 1] = sumIm[i] + im[i] * pastRe - re[i] * pastIm;
    }
    for (let i = 0; i < count; i += SPEED_EVERY) {
      const from = Math.max(0, i - SPEED_REACH);
      const to = Math.min(count, i + SPEED_REACH + 1);
      const turn = Math.atan2(sumIm[to] - sumIm[from], sumRe[to] - sumRe[from]) / (2 * Math.PI);
      result.fill(turn, i, i + SPEED_EVERY);
    }
  }
}
