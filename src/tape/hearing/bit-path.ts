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

/** A path that is so much worse than the best takes nothing from it, at the slowest speed as well. */
const FAR_BEHIND = 60;

const STEPS_A_US = STEPS_A_SECOND / 1e6;

/** One bit as it was read. Times are in steps from the start of the levels. */
export interface PathBit {
  readonly bit: 0 | 1;
  readonly start: number;
  /** Step after the last pulse. */
  readonly rest: number;
  readonly end: number;
  /** What the path would lose if this were not so, FAR_BEHIND at most. */
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
      parts: beforeFirst(most),
      arrived: both(),
      last: new Uint8Array(most),
      idleFromBit: new Uint8Array(most),
    };
    this.back = { idle: row(), parts: beforeFirst(most), ends: row(), through: row() };
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
    backwards(field, ahead, back);
    return walkBack(field, ahead, back);
  }
}

/** A row for 0 and for 1 with LONGEST_BIT more steps before the first, at which nothing begins. */
function beforeFirst(most: number): readonly [Float64Array, Float64Array] {
  const row = () => new Float64Array(LONGEST_BIT + most).fill(Number.NEGATIVE_INFINITY);
  return [row(), row()];
}

/** Follows the best path from its end. */
function walkBack(field: Field, ahead: Ahead, back: Back): PathBit[] {
  const bits: PathBit[] = [];
  let at = field.size - 1;
  const best = bestOf(field, ahead);
  let inBit = ahead.bit[at] > ahead.idle[at];
  while (at > 0) {
    if (!inBit) {
      if (ahead.idleFromBit[at]) inBit = true;
      else at--;
      continue;
    }
    const last = ahead.last[at];
    if (last === FROM_IDLE) {
      // This boundary of a bit was come to from idle.
      inBit = false;
      continue;
    }
    const bit = last === ENDS_ONE ? 1 : 0;
    const begin = beginOf(field, ahead, bit, at);
    bits.push(weighBit(field, ahead, back, best, bit, begin, at));
    at = begin;
  }
  return bits.reverse();
}

/** Worth of the best path. */
function bestOf({ size }: Field, { bit, idle }: Ahead): number {
  return Math.max(bit[size - 1], idle[size - 1]);
}

/** Where the best bit of this value begins that ends here. */
function beginOf(field: Field, { parts, arrived }: Ahead, bit: 0 | 1, end: number): number {
  const { whole, wholeCost } = field.lengthsAt(end);
  const shortest = end - whole[bit];
  let k = 0;
  while (parts[bit][LONGEST_BIT + shortest - k] - wholeCost[bit][k] < arrived[bit][end]) k++;
  return shortest - k;
}

/** What every step and every bit that might begin at it is worth. Steps count from 0 here. */
class Field {
  size = 0;
  from = 0;
  /** sums[i]: how much pulse there is before step i. */
  readonly sums: Float64Array;
  /** The speed at each step, in parts of SPEED_PARTS. */
  readonly speeds: Uint8Array;
  /** Worth of the best loud part of a 0 and a 1 that begin here, less what comes before. */
  readonly loud: readonly [Float64Array, Float64Array];

  constructor(most: number) {
    this.sums = new Float64Array(most + LONGEST_BIT);
    this.speeds = new Uint8Array(most);
    this.loud = [new Float64Array(most), new Float64Array(most)];
  }

  fill(levels: PulseLevels, from: number, to: number): void {
    this.from = from;
    this.size = to - from + 1;
    const { size, sums, speeds } = this;
    const { soft, speed } = levels;
    let sum = 0;
    for (let i = 1; i < size; i++) {
      sum += soft[from + i - 1];
      sums[i] = sum;
    }
    sums.fill(sum, size, size + LONGEST_BIT);
    let [last, key] = [0, 0];
    for (let i = 0; i < size; i++) {
      const own = speed[from + i];
      if (own !== last) {
        last = own;
        key = Math.round(own * SPEED_PARTS);
        lengthsOfSpeed[key] ??= workOutLengths(key / SPEED_PARTS);
      }
      speeds[i] = key;
    }
    for (const bit of [0, 1] as const) this.fillLoud(bit);
  }

  /** The ways to read a bit that begins or ends at this step. */
  lengthsAt(step: number): Lengths {
    return lengthsOfSpeed[this.speeds[step]];
  }

  private fillLoud(bit: 0 | 1): void {
    const { size, sums, speeds } = this;
    const loud = this.loud[bit];
    let speed = 0;
    let pulses = 0;
    let [short, middle, long] = [0, 0, 0];
    for (let i = 0; i < size; i++) {
      if (speeds[i] !== speed) {
        speed = speeds[i];
        pulses = lengthsOfSpeed[speed].pulses[bit];
        [short, middle, long] = lengthsOfSpeed[speed].pulsesCost[bit];
      }
      const shortest = i + pulses;
      let best = 2 * sums[shortest] - short;
      const usual = 2 * sums[shortest + 1] - middle;
      if (usual > best) best = usual;
      const longest = 2 * sums[shortest + 2] - long;
      if (longest > best) best = longest;
      loud[i] = best - sums[i];
    }
  }

  /** Steps of the loud part of a bit that begins here, as `loud` chose it. */
  loudLength(bit: 0 | 1, begin: number): number {
    const { pulses, pulsesCost } = this.lengthsAt(begin);
    const value = (k: number) => 2 * this.sums[begin + pulses[bit] + k] - pulsesCost[bit][k];
    let best = 0;
    for (let k = 1; k < PULSES_WAYS; k++) if (value(k) > value(best)) best = k;
    return pulses[bit] + best;
  }
}

/** What ends at a step. */
const FROM_IDLE = 0;
const ENDS_ZERO = 1;
const ENDS_ONE = 2;

/** Best worth of the paths from the first step. */
interface Ahead {
  /** With a bit boundary at this step, and idle there. */
  readonly bit: Float64Array;
  readonly idle: Float64Array;
  /** With the loud part of a 0, of a 1 that begins at this step, LONGEST_BIT places further on. */
  readonly parts: readonly [Float64Array, Float64Array];
  /** With a 0, a 1 that ends at this step, and what comes before it. */
  readonly arrived: readonly [Float64Array, Float64Array];
  /** Which of them ends here: 0: idle before. */
  readonly last: Uint8Array;
  readonly idleFromBit: Uint8Array;
}

/** Best worth of the paths to the last step. */
interface Back {
  readonly idle: Float64Array;
  /** After the loud part of a 0, of a 1 that begins at this step, LONGEST_BIT places further on. */
  readonly parts: readonly [Float64Array, Float64Array];
  /** After a bit that ends at this step, less all that comes before it. */
  readonly ends: Float64Array;
  /** With a bit boundary at this step, and the best that comes before it. */
  readonly through: Float64Array;
}

function forwards(field: Field, start: PathStart, ahead: Ahead): void {
  const { size, sums, speeds } = field;
  const { bit, idle, last, idleFromBit } = ahead;
  const [part0, part1] = ahead.parts;
  const [arrived0, arrived1] = ahead.arrived;
  const [loud0, loud1] = field.loud;
  let isIdle = start === 'idle' ? 0 : Number.NEGATIVE_INFINITY;
  for (let i = 0; i < size; i++) {
    if (i > 0) isIdle += IDLE;
    const { whole, wholeCost } = lengthsOfSpeed[speeds[i]];
    const before = sums[i];
    const zero = bestArrival(part0, LONGEST_BIT + i - whole[0], wholeCost[0]);
    const one = bestArrival(part1, LONGEST_BIT + i - whole[1], wholeCost[1]);
    arrived0[i] = zero;
    arrived1[i] = one;
    let best = i === 0 && start === 'bit' ? 0 : Number.NEGATIVE_INFINITY;
    let ends = FROM_IDLE;
    if (zero > best) {
      best = zero;
      ends = ENDS_ZERO;
    }
    if (one > best) {
      best = one;
      ends = ENDS_ONE;
    }
    best -= before;
    // Into a program from idle, or out of it; never both at one step.
    let leaves = 0;
    if (isIdle - TURN > best) {
      best = isIdle - TURN;
      ends = FROM_IDLE;
    } else if (best - TURN > isIdle) {
      isIdle = best - TURN;
      leaves = 1;
    }
    idle[i] = isIdle;
    idleFromBit[i] = leaves;
    bit[i] = best;
    last[i] = ends;
    part0[LONGEST_BIT + i] = best + loud0[i];
    part1[LONGEST_BIT + i] = best + loud1[i];
  }
}

/** The best worth with a bit, of any of its WAYS, that begins no later than at place `from` of this row. */
function bestArrival(part: Float64Array, from: number, costs: Float64Array): number {
  let best = part[from] - costs[0];
  for (let k = 1; k < WAYS; k++) {
    const total = part[from - k] - costs[k];
    if (total > best) best = total;
  }
  return best;
}

/** Best worth from each step to the end. */
function backwards(field: Field, ahead: Ahead, { idle, parts, ends, through }: Back): void {
  const { size, sums, speeds } = field;
  const [part0, part1] = parts;
  const [loud0, loud1] = field.loud;
  part0.fill(Number.NEGATIVE_INFINITY, 0, LONGEST_BIT + size);
  part1.fill(Number.NEGATIVE_INFINITY, 0, LONGEST_BIT + size);
  for (let i = size - 1; i >= 0; i--) {
    const isLast = i === size - 1;
    const zero = part0[LONGEST_BIT + i] + loud0[i];
    const one = part1[LONGEST_BIT + i] + loud1[i];
    const own = isLast ? 0 : Math.max(zero, one);
    const out = isLast ? 0 : idle[i + 1] + IDLE;
    const arrived = Math.max(own, out - TURN);
    idle[i] = Math.max(out, arrived - TURN);
    const end = arrived - sums[i];
    ends[i] = end;
    through[i] = ahead.bit[i] + arrived;
    // Hands the worth on to where the bits that end here begin.
    const { whole, wholeCost } = lengthsOfSpeed[speeds[i]];
    handOn(part0, LONGEST_BIT + i - whole[0], wholeCost[0], end);
    handOn(part1, LONGEST_BIT + i - whole[1], wholeCost[1], end);
  }
}

/** Raises the worth of every beginning, of the WAYS from place `from` back, that has this end. */
function handOn(part: Float64Array, from: number, costs: Float64Array, end: number): void {
  for (let k = 0; k < WAYS; k++) {
    const total = end - costs[k];
    if (total > part[from - k]) part[from - k] = total;
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
  const { size, sums, from } = field;
  const { ends, through } = back;
  const middle = (start + end) >> 1;
  const near = SAME_PLACE * (end - start);
  // What is further behind makes no bit less sure, and is not looked for.
  let rival = Math.max(best - FAR_BEHIND, ahead.idle[middle] + back.idle[middle]);
  let other: 0 | 1 | undefined;
  const longest = field.lengthsAt(middle).whole[1] + WAYS;
  const last = Math.min(middle + longest, size - 1);
  for (let i = middle + 1; i <= last; i++) {
    // Most ends lead to too little, whatever bit it is that ends there.
    if (through[i] <= rival) continue;
    const { whole, wholeCost } = field.lengthsAt(i);
    for (const value of [0, 1] as const) {
      if (ahead.arrived[value][i] + ends[i] <= rival) continue;
      const part = ahead.parts[value];
      const costs = wholeCost[value];
      const shortest = i - whole[value];
      for (let k = Math.max(0, shortest - middle); k < WAYS && shortest - k >= 0; k++) {
        const begin = shortest - k;
        // The same bit in about the same place is no rival.
        if (value === bit && Math.abs(begin - start) <= near) continue;
        const total = part[LONGEST_BIT + begin] - costs[k] + ends[i];
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
