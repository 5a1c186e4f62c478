/**
 * The most likely bits of a stretch of tape.
 *
 * A bit is so many pulses and then a rest, and the next bit starts at once. So the bits are a path
 * through time: each takes one of two lengths, and within each the tape must be loud first and quiet
 * after. The best path is found by dynamic programming over all steps at once (forwards), and again
 * backwards, so that every bit of it can be weighed: by how much the best path would lose if this
 * bit had to be read otherwise, whatever that does to its neighbours.
 */
import {
  PULSE_HIGH_US,
  PULSE_LOW_US,
  PULSES_OF_BIT,
  REST_US,
  SLOWEST,
} from '../../machine/tape-signal.js';
import { STEPS_A_SECOND } from './carrier.js';
import type { PulseLevels } from './pulse-levels.js';

/** Worth of a step outside programs: a path through noise earns less than this with any bits. */
const IDLE = 0.45;
/** Cost of going into a program, and of leaving one: less than this is bridged by bits. */
const TURN = 60;
/** Cost of a step, squared, by which a length is off. */
const OFF_COST = 0.4;
/** Steps by which the pulses, and the whole bit, may be longer or shorter than the speed says. */
const PULSES_SLACK = 1;
const BIT_SLACK = 4;
/** Speeds for which the lengths are worked out once: this many to 1. */
const SPEED_PARTS = 64;
/** Part of a bit by which another path's bit may lie apart and still be the same bit. */
const SAME_PLACE = 0.35;

const STEPS_A_US = STEPS_A_SECOND / 1e6;

/** One bit as it was read. Times are in steps from the start of the levels. */
export interface PathBit {
  readonly bit: 0 | 1;
  readonly start: number;
  /** Step after the last pulse. */
  readonly rest: number;
  readonly end: number;
  /** What the path would lose if this were not so; a clean tape gives some 40 to 100. */
  readonly margin: number;
  /** The bit that the best other path has here; undefined if it has none. */
  readonly other: 0 | 1 | undefined;
  /** −1 to 1: how well pulses and rest are really there. */
  readonly fit: number;
}

/** Where a path begins: in a program (a bit starts right there) or outside. */
export type PathStart = 'bit' | 'idle';

/** The ways to read a 0 and a 1 at one speed. */
interface Lengths {
  /** Shortest loud part and shortest whole, in steps, of each bit. */
  readonly pulses: readonly [number, number];
  readonly whole: readonly [number, number];
  /** What it costs to be so many steps longer than the shortest. */
  readonly pulsesCost: readonly [Float64Array, Float64Array];
  readonly wholeCost: readonly [Float64Array, Float64Array];
}

const WAYS = 2 * BIT_SLACK + 1;
const PULSES_WAYS = 2 * PULSES_SLACK + 1;

const lengthsOfSpeed: Lengths[] = [];

function lengthsAt(speed: number): Lengths {
  const key = Math.round(speed * SPEED_PARTS);
  lengthsOfSpeed[key] ??= workOutLengths(key / SPEED_PARTS);
  return lengthsOfSpeed[key];
}

function workOutLengths(speed: number): Lengths {
  const exactPulses = PULSES_OF_BIT.map((count) => {
    // The last pulse's low half already is rest.
    const us = count * (PULSE_HIGH_US + PULSE_LOW_US) - PULSE_LOW_US;
    return (us * STEPS_A_US) / speed;
  });
  const rest = ((REST_US + PULSE_LOW_US) * STEPS_A_US) / speed;
  const shortest = (exact: number, slack: number) => Math.round(exact) - slack;
  const cost = (exact: number, slack: number) =>
    Float64Array.from(
      { length: 2 * slack + 1 },
      (_, k) => OFF_COST * (shortest(exact, slack) + k - exact) ** 2,
    );
  const both = <T>(of: (exact: number) => T): [T, T] => [of(exactPulses[0]), of(exactPulses[1])];
  return {
    pulses: both((exact) => shortest(exact, PULSES_SLACK)),
    whole: both((exact) => shortest(exact + rest, BIT_SLACK)),
    pulsesCost: both((exact) => cost(exact, PULSES_SLACK)),
    wholeCost: both((exact) => cost(exact + rest, BIT_SLACK)),
  };
}

/** Longest bit, in steps. */
const LONGEST_BIT = workOutLengths(SLOWEST).whole[1] + WAYS;

/** Finds the bits of one block after the other. Its arrays are large, and serve all of them. */
export class BitPath {
  private readonly field: Field;
  private readonly ahead: Ahead;
  private readonly back: Back;

  /** @param most steps of the longest block */
  constructor(most: number) {
    const row = () => new Float64Array(most);
    const both = () => [row(), row()] as const;
    this.field = new Field(most);
    this.ahead = {
      bit: row(),
      idle: row(),
      parts: both(),
      choice: new Uint8Array(most),
      idleFromBit: new Uint8Array(most),
    };
    this.back = { idle: row(), parts: both(), ends: row() };
  }

  /**
   * The bits between steps `from` and `to`.
   * @param start whether a bit starts at `from`
   * @returns bits in order of time; the last ones suffer from not seeing what follows
   */
  find(levels: PulseLevels, from: number, to: number, start: PathStart): PathBit[] {
    const { field, ahead, back } = this;
    field.fill(levels, from, to);
    forwards(field, start, ahead);
    backwards(field, back);
    return walkBack(field, ahead, back);
  }
}

/** Follows the best path from its end. */
function walkBack(field: Field, ahead: Ahead, back: Back): PathBit[] {
  const bits: PathBit[] = [];
  let at = field.size - 1;
  const best = Math.max(ahead.bit[at], ahead.idle[at]);
  let inBit = ahead.bit[at] > ahead.idle[at];
  while (at > 0) {
    if (!inBit) {
      if (ahead.idleFromBit[at]) inBit = true;
      else at--;
      continue;
    }
    const choice = ahead.choice[at];
    if (choice === 0) {
      // This boundary of a bit was come to from idle.
      inBit = false;
      continue;
    }
    const bit = choice > WAYS ? 1 : 0;
    const length = field.lengths[at].whole[bit] + choice - 1 - (bit ? WAYS : 0);
    bits.push(weighBit(field, ahead, back, best, bit, at - length, at));
    at -= length;
  }
  return bits.reverse();
}

/** What every step and every bit that might begin at it is worth. Steps count from 0 here. */
class Field {
  size = 0;
  from = 0;
  /** sums[i]: how much pulse there is before step i. */
  readonly sums: Float64Array;
  readonly lengths: Lengths[] = [];
  /** Worth of the best loud part of a 0 and a 1 that begin here, less what comes before. */
  readonly loud: readonly [Float64Array, Float64Array];

  constructor(most: number) {
    this.sums = new Float64Array(most + LONGEST_BIT);
    this.loud = [new Float64Array(most), new Float64Array(most)];
  }

  fill(levels: PulseLevels, from: number, to: number): void {
    this.from = from;
    this.size = to - from + 1;
    const { size, sums, lengths } = this;
    for (let i = 1; i < size + LONGEST_BIT; i++) {
      sums[i] = sums[i - 1] + (i < size ? levels.soft[from + i - 1] : 0);
    }
    for (let i = 0; i < size; i++) lengths[i] = lengthsAt(levels.speed[from + i]);
    for (const bit of [0, 1] as const) {
      const loud = this.loud[bit];
      for (let i = 0; i < size; i++) {
        const { pulses, pulsesCost } = lengths[i];
        const costs = pulsesCost[bit];
        const shortest = i + pulses[bit];
        let best = Number.NEGATIVE_INFINITY;
        for (let k = 0; k < PULSES_WAYS; k++) {
          const value = 2 * sums[shortest + k] - costs[k];
          if (value > best) best = value;
        }
        loud[i] = best - sums[i];
      }
    }
  }

  /** Steps of the loud part of a bit that begins here, as `loud` chose it. */
  loudLength(bit: 0 | 1, begin: number): number {
    const { pulses, pulsesCost } = this.lengths[begin];
    const value = (k: number) => 2 * this.sums[begin + pulses[bit] + k] - pulsesCost[bit][k];
    let best = 0;
    for (let k = 1; k < pulsesCost[bit].length; k++) if (value(k) > value(best)) best = k;
    return pulses[bit] + best;
  }
}

/** Best worth of the paths from the first step. */
interface Ahead {
  /** With a bit boundary at this step, and idle there. */
  readonly bit: Float64Array;
  readonly idle: Float64Array;
  /** With the loud part of a 0, of a 1 that begins at this step. */
  readonly parts: readonly [Float64Array, Float64Array];
  /** The bit that ends here: 1 to WAYS a 0 of some length, then as many for a 1; 0: idle before. */
  readonly choice: Uint8Array;
  readonly idleFromBit: Uint8Array;
}

/** Best worth of the paths to the last step. */
interface Back {
  readonly idle: Float64Array;
  /** After the loud part of a 0, of a 1 that begins at this step. */
  readonly parts: readonly [Float64Array, Float64Array];
  /** After a bit that ends at this step, less all that comes before it. */
  readonly ends: Float64Array;
}

function forwards(field: Field, start: PathStart, ahead: Ahead): void {
  const { size, sums, lengths, loud } = field;
  const { bit, idle, parts, choice, idleFromBit } = ahead;
  bit.fill(Number.NEGATIVE_INFINITY, 0, size);
  idle.fill(Number.NEGATIVE_INFINITY, 0, size);
  idleFromBit.fill(0, 0, size);
  if (start === 'bit') bit[0] = 0;
  else idle[0] = 0;
  for (let i = 0; i < size; i++) {
    if (i > 0) idle[i] = idle[i - 1] + IDLE;
    const { whole, wholeCost } = lengths[i];
    const before = sums[i];
    let best = bit[i] + before;
    let chosen = 0;
    for (let value = 0; value < 2; value++) {
      const costs = wholeCost[value as 0 | 1];
      const part = parts[value as 0 | 1];
      for (let k = 0, begin = i - whole[value as 0 | 1]; k < WAYS && begin >= 0; k++, begin--) {
        const total = part[begin] - costs[k];
        if (total > best) {
          best = total;
          chosen = value * WAYS + k + 1;
        }
      }
    }
    best -= before;
    // Into a program from idle, or out of it; never both at one step.
    if (idle[i] - TURN > best) {
      best = idle[i] - TURN;
      chosen = 0;
    } else if (best - TURN > idle[i]) {
      idle[i] = best - TURN;
      idleFromBit[i] = 1;
    }
    bit[i] = best;
    choice[i] = chosen;
    parts[0][i] = best + loud[0][i];
    parts[1][i] = best + loud[1][i];
  }
}

/** Best worth from each step to the end. */
function backwards(field: Field, { idle, parts, ends }: Back): void {
  const { size, sums, lengths, loud } = field;
  parts[0].fill(Number.NEGATIVE_INFINITY, 0, size);
  parts[1].fill(Number.NEGATIVE_INFINITY, 0, size);
  for (let i = size - 1; i >= 0; i--) {
    const last = i === size - 1;
    const own = last ? 0 : Math.max(parts[0][i] + loud[0][i], parts[1][i] + loud[1][i]);
    const out = last ? 0 : idle[i + 1] + IDLE;
    const arrived = Math.max(own, out - TURN);
    idle[i] = Math.max(out, arrived - TURN);
    const end = arrived - sums[i];
    ends[i] = end;
    // Hands the worth on to where the bits that end here begin.
    const { whole, wholeCost } = lengths[i];
    for (let value = 0; value < 2; value++) {
      const costs = wholeCost[value as 0 | 1];
      const part = parts[value as 0 | 1];
      for (let k = 0, begin = i - whole[value as 0 | 1]; k < WAYS && begin >= 0; k++, begin--) {
        const total = end - costs[k];
        if (total > part[begin]) part[begin] = total;
      }
    }
  }
}

/** Compares the best path, which has this bit, with the best of those that have not. */
function weighBit(
  field: Field,
  ahead: Ahead,
  back: Back,
  best: number,
  bit: 0 | 1,
  start: number,
  end: number,
): PathBit {
  const { size, sums, lengths, from } = field;
  const { ends } = back;
  const middle = (start + end) >> 1;
  const near = SAME_PLACE * (end - start);
  let rival = ahead.idle[middle] + back.idle[middle];
  let other: 0 | 1 | undefined;
  for (const value of [0, 1] as const) {
    const part = ahead.parts[value];
    const longest = lengths[middle].whole[value] + WAYS;
    // The same bit in about the same place is no rival.
    const [sameFrom, sameTo] = value === bit ? [start - near, start + near] : [1, 0];
    let most = Number.NEGATIVE_INFINITY;
    for (let begin = Math.max(0, middle - LONGEST_BIT); begin <= middle; begin++) {
      if (begin >= sameFrom && begin <= sameTo) continue;
      if (part[begin] > most) most = part[begin];
    }
    const last = Math.min(middle + longest, size - 1);
    for (let i = middle + 1; i <= last; i++) {
      // Most ends lead to too little for any beginning to make a rival of it.
      if (most + ends[i] <= rival) continue;
      const costs = lengths[i].wholeCost[value];
      const shortest = i - lengths[i].whole[value];
      for (let k = Math.max(0, shortest - middle); k < WAYS && shortest - k >= 0; k++) {
        const begin = shortest - k;
        if (begin >= sameFrom && begin <= sameTo) continue;
        const total = part[begin] - costs[k] + ends[i];
        if (total > rival) {
          rival = total;
          other = value;
        }
      }
    }
  }
  const rest = start + field.loudLength(bit, start);
  return {
    bit,
    start: from + start,
    rest: from + rest,
    end: from + end,
    margin: best - rival,
    other,
    fit: (2 * sums[rest] - sums[start] - sums[end]) / (end - start),
  };
}
