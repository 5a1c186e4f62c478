/**
 * A stretch of tape with holes in it: what is heard there, and the orders of bits that agree with it, the
 * best first.
 */
import { BIT_SECONDS, PULSE_HZ, PULSE_LOW_US, REST_US } from '../../machine/tape-signal.js';
import type { PathBit } from './bit-path.js';
import { STEPS_A_SECOND } from './carrier.js';
import type { PulseLevels } from './pulse-levels.js';

/** An order of bits, and how little it agrees with the tape. */
export interface BitOrder {
  readonly bits: readonly (0 | 1)[];
  readonly cost: number;
  /** It takes a quiet for a hole that is as long as a rest, and costs more for that. */
  readonly likeRest?: boolean;
}

/** A bit under a hole or beside it, with what all orders of bits there say of it together. */
export interface HoleBit extends PathBit {
  /** How much more the best order that has another bit here disagrees with the tape. */
  readonly lead: number;
  /** All orders that agree with the tape, the best first; the same for all bits of the stretch. */
  readonly hole: readonly BitOrder[];
}

export function isUnder(bit: PathBit | HoleBit | undefined): bit is HoleBit {
  return bit !== undefined && 'lead' in bit;
}

/** Steps of each bit, and of the quiet from its last pulse's fall to the next bit. */
export const BIT_STEPS = BIT_SECONDS.map((seconds) => seconds * STEPS_A_SECOND);
export const REST_STEPS = ((REST_US + PULSE_LOW_US) / 1e6) * STEPS_A_SECOND;
/** Steps of the longest stretch with holes in it and the bits beside them. */
export const LONGEST_STRETCH = 0.06 * STEPS_A_SECOND;
/** Steps by which a rest may look longer or shorter than the others. */
export const REST_OFF = 3;
/** A pulse must last so many steps, and quiet as well, before it bounds anything. */
const SHORTEST = 2;
/** Steps, and part of the stretch, by which bits may miss its time. */
const SLACK_STEPS = 6;
const SLACK_PART = 0.015;
/** The same for the usual error. */
const USUAL_STEPS = 0.8;
const USUAL_PART = 0.005;
/**
 * So many times as loud as the rests around it is none yet, within these parts of a pulse: the edge of a
 * hole can be heard in a rest as well.
 */
const FLOORS = 2.5;
const LEAST_FLOOR = 0.2;
const MOST_FLOOR = 0.4;
/** This part of a pulse is one, and if a rest is not silent, so much more than it. */
const SOFT_PULSE = 0.45;
const CONTRAST = 0.2;
/** What it costs that a quiet as long as a rest is a hole; and where rests are louder than this it is none. */
const LIKE_A_REST = 6;
const QUIET_FLOOR = 0.15;
/** How far the pulses turn in a step, at the machine's own speed. */
const TURN = (2 * Math.PI * PULSE_HZ) / STEPS_A_SECOND;
/**
 * Part of the good pulses that must turn alike for their phase to speak; cosine by which others may be
 * turned against them, and what a step costs that is turned further. A rest is no whole number of
 * pulses long, so pulses that begin a bit have another phase than those that go on in the one before.
 */
const EVEN = 0.9;
const ALIKE = 0.6;
const PHASE_COST = 4;
/** Steps beside a change from pulse to rest that speak for neither. */
const CHANGE = 2;
/** What a step costs that is heard as a pulse where there should be a rest, and the other way. */
const PULSE_COST = 4;
const REST_COST = 2;
/** An order that disagrees by more than this is not one; nor any that disagrees so much more than the best. */
const MOST_COST = 25;
export const MOST_LEAD = 30;
/** An order of few bits that disagrees by more than this, and this for each of them, is none of a hole. */
const POOR = 4;
const POOR_A_BIT = 2.5;
/** Orders that are gone through for one hole. */
const MOST_TRIED = 60_000;
/** What begins where a hole's stretch does lies this near to it. */
export const NEAR_START = 4;

/** Orders that may still be gone through. */
export interface Work {
  left: number;
}

/** First steps of runs of pulses and of quiet, by turns; the even ones are quiet. */
export function runsOf(isPulseAt: (step: number) => boolean, from: number, to: number): number[] {
  const starts = [from];
  let isPulse = false;
  let changed = from;
  for (let i = from; i < to; i++) {
    if (isPulseAt(i) === isPulse) {
      changed = i + 1;
    } else if (i - changed + 1 >= SHORTEST) {
      starts.push(changed);
      isPulse = !isPulse;
      changed = i + 1;
    }
  }
  return starts;
}

/** The usual length of a rest among these runs, at the machine's own speed. */
export function usualRest(lengths: readonly number[]): number | undefined {
  const rests = lengths.filter((one) => one > 0.6 * REST_STEPS && one < 1.4 * REST_STEPS);
  return Float64Array.from(rests).sort()[rests.length >> 1];
}

/** For each bit of the first of these orders, by how much the best that has another bit there is behind it. */
export function leadsOf(orders: readonly BitOrder[]): number[] {
  const [best] = orders;
  const leads = best.bits.map(() => MOST_LEAD);
  for (const { bits, cost } of orders) {
    // What has more bits or fewer has others from the first that is not the same.
    let differs = false;
    for (let i = 0; i < best.bits.length; i++) {
      const other = bits[i] !== best.bits[i];
      differs = other || (differs && bits.length !== best.bits.length);
      if (differs) leads[i] = Math.min(leads[i], cost - best.cost);
    }
    if (bits.length > best.bits.length && !differs) {
      leads[leads.length - 1] = Math.min(leads[leads.length - 1], cost - best.cost);
    }
  }
  return leads;
}

/** What is heard between two steps at which a bit begins, with holes between them. */
export class Stretch {
  private readonly from: number;
  private readonly start: number;
  private readonly end: number;
  private readonly speed: number;
  private readonly rest: number;
  private readonly off: number;
  /** How much pulse there is before each step from `from` on; how much quiet that is no hole. */
  private readonly pulse: Float64Array;
  /** How much of a pulse each step is, and how far it is turned against an even turning. */
  private readonly heard: Float64Array;
  private readonly turn: Float64Array;
  /** The same at the beginning of good bits; undefined if it is not alike in them. */
  private readonly phase: number | undefined;
  private quiet: Float64Array;
  /** The same quiet if one that looks like a rest is a hole as well. */
  private readonly others: Float64Array[] = [];

  constructor(
    { strength, high, re, im }: PulseLevels,
    sides: readonly (readonly PathBit[])[],
    start: number,
    end: number,
    private readonly work: Work,
  ) {
    const good = sides.flat();
    const from = Math.min(start, good[0].start - NEAR_START - 1);
    const to = Math.max(end, good[good.length - 1].end);
    // Pulses at the edge of a hole are soft, and still louder than any rest.
    const middle = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1];
    const loud = middle(good.map((bit) => high[bit.start]));
    const floor = middle(good.map((bit) => strength[(bit.rest + bit.end) >> 1])) / loud;
    const none = Math.min(MOST_FLOOR, Math.max(LEAST_FLOOR, FLOORS * floor));
    const all = Math.max(SOFT_PULSE, none + CONTRAST);
    const level = (step: number) => (strength[step] / loud - none) / (all - none);
    const isPulse = (step: number) => level(step) > 0.5;
    const starts = runsOf(isPulse, from, to);
    // Where between two steps the level crosses its half.
    const edge = (step: number) => {
      let at = step - NEAR_START;
      while (at < step + NEAR_START && !isPulse(at)) at++;
      const [before, after] = [level(at - 1), level(at)];
      return before < 0.5 && after > before ? at - (after - 0.5) / (after - before) : at;
    };
    let [own, taken] = [0, 0];
    for (const side of sides) {
      const last = side.length - 1;
      for (const bit of side.slice(0, last)) own += BIT_STEPS[bit.bit];
      taken += edge(side[last].start) - edge(side[0].start);
    }
    this.speed = own / taken;
    const length = (run: number) => ((starts[run + 1] ?? to) - starts[run]) * this.speed;
    const quietRuns = starts.map((_, run) => run).filter((run) => (run & 1) === 0);
    this.rest = usualRest(quietRuns.map(length)) ?? REST_STEPS;
    this.from = from;
    const steps = to - from;
    const sums = (heardAt: (step: number) => number) => {
      const values = new Float64Array(steps + 1);
      for (let i = 0; i < steps; i++) values[i + 1] = values[i] + heardAt(i + from);
      return values;
    };
    const heard = (step: number) => Math.max(0, Math.min(1, level(step)));
    const quiet = sums((step) => 1 - heard(step));
    const without = (values: Float64Array, run: number) => {
      const [first, past] = [starts[run] - from, (starts[run + 1] ?? to) - from];
      return values.map(
        (sum, i) => sum - values[Math.min(Math.max(i, first), past)] + values[first],
      );
    };
    this.pulse = sums(heard);
    const isHole = (run: number) => Math.abs(length(run) - this.rest) > REST_OFF;
    this.quiet = quietRuns.filter(isHole).reduce(without, quiet);
    if (floor <= QUIET_FLOOR) {
      const within = (run: number) => starts[run] > start && starts[run] < end && !isHole(run);
      this.others = quietRuns.filter(within).map((run) => without(this.quiet, run));
    }
    this.heard = Float64Array.from({ length: steps }, (_, i) => heard(i + from));
    this.turn = Float64Array.from({ length: steps }, (_, i) => {
      return Math.atan2(im[i + from], re[i + from]) - TURN * this.speed * i;
    });
    this.phase = this.phaseOf(good.map((bit) => [edge(bit.start) - from, bit.rest - from]));
    // The path has bits begin by so much before or after the middle of the edge.
    const offs = good.map((bit) => edge(bit.start) - bit.start).sort((a, b) => a - b);
    this.off = offs[offs.length >> 1];
    this.start = edge(start) - from;
    this.end = edge(end) - from;
  }

  /** How far pulses are turned at the beginning of these bits, if it is alike in all. */
  private phaseOf(bits: readonly number[][]): number | undefined {
    let [re, im, all] = [0, 0, 0];
    for (const [start, rest] of bits) {
      for (let i = Math.ceil(start); i < rest; i++) {
        const angle = this.turn[i] + TURN * this.speed * start;
        re += this.heard[i] * Math.cos(angle);
        im += this.heard[i] * Math.sin(angle);
        all += this.heard[i];
      }
    }
    return Math.hypot(re, im) < EVEN * all ? undefined : Math.atan2(im, re);
  }

  /** How much is heard from `start` to `rest` of pulses that do not begin at `start`. */
  private astray(start: number, rest: number): number {
    if (this.phase === undefined) return 0;
    const turned = TURN * this.speed * start - this.phase;
    const past = Math.min(rest, this.heard.length);
    let sum = 0;
    for (let i = Math.max(0, Math.ceil(start)); i < past; i++) {
      if (this.heard[i] === 0) continue;
      sum += this.heard[i] * Math.max(0, ALIKE - Math.cos(this.turn[i] + turned));
    }
    return sum;
  }

  /** Its bits, if some agree with the tape; `unlike` if none agree so well that it must be a hole. */
  bits(): HoleBit[] | 'unlike' | undefined {
    const orders = this.orders();
    if (orders === undefined || orders.length === 0) return undefined;
    const [{ bits, cost, likeRest }] = orders;
    const fit = cost - (likeRest ? LIKE_A_REST : 0);
    return fit > POOR + POOR_A_BIT * bits.length ? 'unlike' : this.placed(orders);
  }

  private placed(hole: readonly BitOrder[]): HoleBit[] {
    const { start, end, from, rest } = this;
    const [{ bits }] = hole;
    const leads = leadsOf(hole);
    const stretch = (end - start) / bits.reduce((sum: number, bit) => sum + BIT_STEPS[bit], 0);
    let at = start + from - this.off;
    return bits.map((bit, i) => {
      const begin = at;
      at += BIT_STEPS[bit] * stretch;
      return {
        bit,
        start: Math.round(begin),
        rest: Math.round(at - rest * stretch),
        end: Math.round(at),
        margin: leads[i],
        other: (1 - bit) as 0 | 1,
        fit: 1,
        lead: leads[i],
        hole,
      };
    });
  }

  /** The orders that agree with the tape, the best first; undefined if there are too many to go through. */
  private orders(): BitOrder[] | undefined {
    const all = this.ordersWith(0);
    // Any one rest may be a hole that looks like it.
    for (const quiet of this.others) {
      this.quiet = quiet;
      const more = this.ordersWith(LIKE_A_REST) ?? [];
      all?.push(...more.map((order) => ({ ...order, likeRest: true })));
    }
    all?.sort((a, b) => a.cost - b.cost);
    if (!(all && all[0]?.cost <= MOST_COST)) return undefined;
    const near = all.filter(({ cost }) => cost < all[0].cost + MOST_LEAD);
    const known = new Set<string>();
    return near.filter(({ bits }) => {
      const isNew = !known.has(bits.join(''));
      known.add(bits.join(''));
      return isNew;
    });
  }

  private ordersWith(cost: number): BitOrder[] | undefined {
    const { start, end, speed, work } = this;
    const span = (end - start) * speed;
    const slack = SLACK_STEPS + SLACK_PART * span;
    const usual = USUAL_STEPS + USUAL_PART * span;
    const orders: BitOrder[] = [];
    const least = work.left - MOST_TRIED;
    for (let ones = 0; ones * BIT_STEPS[1] <= span + slack; ones++) {
      const left = span - ones * BIT_STEPS[1];
      const zeros = Math.max(0, Math.round(left / BIT_STEPS[0]));
      const off = Math.abs(left - zeros * BIT_STEPS[0]);
      if (off > slack || zeros + ones === 0) continue;
      const stretch = (end - start) / (zeros * BIT_STEPS[0] + ones * BIT_STEPS[1]);
      this.addOrders([zeros, ones], start, stretch, cost + (off / usual) ** 2, [], orders, least);
      if (work.left < Math.max(0, least)) return undefined;
    }
    return orders;
  }

  private addOrders(
    left: readonly [zeros: number, ones: number],
    at: number,
    stretch: number,
    cost: number,
    bits: readonly (0 | 1)[],
    orders: BitOrder[],
    least: number,
  ): void {
    if (left[0] + left[1] === 0) {
      orders.push({ bits, cost });
      return;
    }
    for (const bit of [0, 1] as const) {
      if (left[bit] === 0) continue;
      if (--this.work.left < least) return;
      const end = at + BIT_STEPS[bit] * stretch;
      const then = cost + this.disagreement(at, end - this.rest * stretch, end);
      if (then > MOST_COST + MOST_LEAD) continue;
      const less: [number, number] = bit === 0 ? [left[0] - 1, left[1]] : [left[0], left[1] - 1];
      this.addOrders(less, end, stretch, then, [...bits, bit], orders, least);
    }
  }

  /** How little the tape agrees with pulses from `start` to `rest`, and none from there to `end`. */
  private disagreement(start: number, rest: number, end: number): number {
    const sum = (sums: Float64Array, from: number, to: number) => {
      const last = sums.length - 1;
      const [first, past] = [Math.ceil(from + CHANGE), Math.floor(to - CHANGE)];
      return past > first ? sums[Math.min(last, past)] - sums[Math.min(last, first)] : 0;
    };
    return (
      REST_COST * sum(this.quiet, start, rest) +
      PULSE_COST * sum(this.pulse, rest, end) +
      PHASE_COST * this.astray(start, rest)
    );
  }
}
