/**
 * Holes in the tape: places where it gives nothing for a time, in the middle of a program. What is quiet
 * there is no rest, and taken for one it would speak for the wrong bits.
 *
 * The bits go on under a hole. One rest is as long as the other, so quiet of another length is a hole, or
 * holds one. Between the last bit that begins clearly before it and the first after it there is time for
 * so many zeros and ones only; of all their orders, those are left that have no pulses where the tape
 * is quiet in the length of a rest, and none but quiet where a pulse is heard. If only one is left, its
 * bits are as good as heard.
 */
import { BIT_SECONDS, PULSE_HZ, PULSE_LOW_US, REST_US } from '../../machine/tape-signal.js';
import type { PathBit } from './bit-path.js';
import { STEPS_A_SECOND } from './carrier.js';
import type { PulseLevels } from './pulse-levels.js';

/** An order of bits, and how little it agrees with the tape. */
export interface BitOrder {
  readonly bits: readonly (0 | 1)[];
  readonly cost: number;
}

/** A bit under a hole or beside it, with what all orders of bits there say of it together. */
export interface HoleBit extends PathBit {
  /** How much more the best order that has another bit here disagrees with the tape. */
  readonly lead: number;
  /** All orders that agree with the tape, the best first; the same for all bits of the stretch. */
  readonly hole: readonly BitOrder[];
}

/** Steps of each bit, and of the quiet from its last pulse's fall to the next bit. */
const BIT_STEPS = BIT_SECONDS.map((seconds) => seconds * STEPS_A_SECOND);
const REST_STEPS = ((REST_US + PULSE_LOW_US) / 1e6) * STEPS_A_SECOND;
/** Steps by which a rest may look longer or shorter than the others. */
const REST_OFF = 3;
/** A pulse must last so many steps, and quiet as well, before it bounds anything. */
const SHORTEST = 2;
/** Steps of the longest hole that is bridged here, and of the longest stretch with its bits. */
const LONGEST_HOLE = 0.025 * STEPS_A_SECOND;
const LONGEST_STRETCH = 0.06 * STEPS_A_SECOND;
/** Of so many bits before a hole, and after it, so many fit well and are clear: else it is noise. */
const LOOKED_AT = 7;
const GOOD = 4;
/** Seconds within which these are. */
const NEAR = 0.012;
const GOOD_FIT = 0.8;
const GOOD_MARGIN = 15;
/** A bit with such a margin and such a fit is clear without a look at what else there may be. */
const CLEAR_MARGIN = 30;
const CLEAR_FIT = 0.6;
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
/** Orders that are gone through for one hole, and for all in one block. */
const MOST_TRIED = 60_000;
const MOST_IN_BLOCK = 400_000;

/**
 * The bits again, with those that lie under holes and beside them as the time and all that is heard
 * there leave them. Where that does not tell, they stay as they are.
 */
export function underHoles(
  levels: PulseLevels,
  heard: readonly PathBit[],
  from: number,
  to: number,
): readonly (PathBit | HoleBit)[] {
  const { soft, speed } = levels;
  let bits = heard;
  const runs = runsOf((step) => soft[step] > 0, from, to);
  const length = (run: number) => ((runs[run + 1] ?? to) - runs[run]) * speed[runs[run]];
  const quietRuns = runs.map((_, run) => run).filter((run) => (run & 1) === 0);
  const rest = usualRest(quietRuns.map(length));
  if (rest === undefined) return bits;
  const odd = stretchesOf(runs, (run) => Math.abs(length(run) - rest) > REST_OFF, bits);
  const result: (PathBit | HoleBit)[] = [];
  const work: Work = { left: MOST_IN_BLOCK };
  let next = 0;
  for (const gap of withUnclear(odd, bits)) {
    let { start, end } = gap;
    let before = next;
    while (before < bits.length && bits[before].end <= start + NEAR_START) before++;
    let after = before;
    while (after < bits.length && bits[after].start < end - NEAR_START) after++;
    // What is unclear beside it belongs to it.
    while (before > next && !isClear(bits[before - 1])) start = bits[--before].start;
    while (after < bits.length - 1 && !isClear(bits[after])) end = bits[++after].start;
    // What was bridged already may have taken the beginning of this one.
    const isTaken = next > 0 && !(start >= bits[next]?.start - NEAR_START);
    if (isTaken || end - start > LONGEST_STRETCH) continue;
    if (areClear(bits, before, after)) continue;
    const sides = goodBitsAround(bits, before, after, start, end);
    const own = sides && new Stretch(levels, sides, start, end, work).bits();
    if (own === undefined) continue;
    result.push(...bits.slice(next, before), ...own);
    next = after;
    bits = joinedTo(result, result.length - own.length, bits, after);
  }
  result.push(...bits.slice(next));
  return result;
}

/** The bits beside a hole reach to it: the path may have drawn them towards it. */
function joinedTo(
  row: PathBit[],
  first: number,
  bits: readonly PathBit[],
  after: number,
): readonly PathBit[] {
  const isNear = (a: number, b: number) => Math.abs(a - b) <= NEAR_START;
  const before = row[first - 1];
  if (before && isNear(before.end, row[first].start)) {
    row[first - 1] = { ...before, end: row[first].start };
  }
  const { end } = row[row.length - 1];
  if (!bits[after] || !isNear(bits[after].start, end)) return bits;
  return bits.with(after, { ...bits[after], start: end });
}

/** Steps between two at which a bit begins, with a hole between them, or something else that is unclear. */
interface Gap {
  readonly start: number;
  readonly end: number;
}

/** What begins where a hole's stretch does lies this near to it. */
const NEAR_START = 4;

/** Orders that may still be gone through. */
interface Work {
  left: number;
}

/** First steps of runs of pulses and of quiet, by turns; the even ones are quiet. */
function runsOf(isPulseAt: (step: number) => boolean, from: number, to: number): number[] {
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
function usualRest(lengths: readonly number[]): number | undefined {
  const rests = lengths.filter((one) => one > 0.6 * REST_STEPS && one < 1.4 * REST_STEPS);
  return rests.sort((a, b) => a - b)[rests.length >> 1];
}

/** From one run of pulses that begins a bit to another, with holes between them. */
function stretchesOf(
  starts: readonly number[],
  odd: (run: number) => boolean,
  bits: readonly PathBit[],
): Gap[] {
  const gaps: Gap[] = [];
  for (let run = 2; run < starts.length - 2; run += 2) {
    if (!odd(run)) continue;
    const first = run - 1;
    let isHole = true;
    while (run < starts.length - 2 && odd(run)) {
      if (starts[run + 1] - starts[run] > LONGEST_HOLE) isHole = false;
      // The pulses after a hole may be a bit's last ones; those after the next rest are not.
      run += 2;
    }
    const last = run + 1;
    if (last >= starts.length || odd(run)) break;
    if (isHole) gaps.push({ start: starts[first], end: starts[last] });
  }
  // Between two holes there may be too little for each to be judged alone.
  const joined: Gap[] = [];
  for (const gap of gaps) {
    const last = joined[joined.length - 1];
    const between = last && bits.filter(({ start, end }) => start >= last.end && end <= gap.start);
    if (last && between!.length <= LOOKED_AT && gap.end - last.start <= LONGEST_STRETCH) {
      joined[joined.length - 1] = { ...last, end: gap.end };
    } else joined.push(gap);
  }
  return joined.filter(({ start, end }) => end - start <= LONGEST_STRETCH);
}

/** These, and between them what is unclear without a quiet of odd length: a hole can look like a rest. */
function withUnclear(gaps: readonly Gap[], bits: readonly PathBit[]): Gap[] {
  const all = [...gaps];
  for (let i = 1; i < bits.length - 1; i++) {
    if (isClear(bits[i])) continue;
    const first = i;
    while (i < bits.length - 2 && !isClear(bits[i + 1])) i++;
    const [start, end] = [bits[first].start, bits[i].end];
    const isOther = gaps.every((gap) => gap.end <= start || gap.start >= end);
    if (isOther && end - start <= LONGEST_STRETCH) all.push({ start, end });
  }
  return all.sort((a, b) => a.start - b.start);
}

function isClear({ margin, fit }: PathBit): boolean {
  return margin >= CLEAR_MARGIN && fit >= CLEAR_FIT;
}

/** Are these bits clear as they are, without a gap between them? Then there is no hole that matters. */
function areClear(bits: readonly PathBit[], before: number, after: number): boolean {
  for (let i = before; i <= after; i++) {
    if (i > 0 && !follows(bits, i)) return false;
    if (i < after && !isClear(bits[i])) return false;
  }
  return true;
}

/** The good bits on each side of a stretch, without a gap between them, if there are such as no noise gives. */
function goodBitsAround(
  bits: readonly PathBit[],
  before: number,
  after: number,
  start: number,
  end: number,
): PathBit[][] | undefined {
  const isGood = ({ fit, margin }: PathBit) => fit >= GOOD_FIT && margin >= GOOD_MARGIN;
  const near = NEAR * STEPS_A_SECOND;
  // What stands right beside the hole may be drawn towards it.
  let first = before - 1;
  while (first >= 0 && !isGood(bits[first])) first--;
  let last = first;
  while (last > 0 && first - last < LOOKED_AT && follows(bits, last) && isGood(bits[last - 1]))
    last--;
  const left = bits.slice(Math.max(0, last), first + 1);
  first = after;
  while (first < bits.length && !isGood(bits[first])) first++;
  last = first + 1;
  while (last - first < LOOKED_AT && follows(bits, last) && isGood(bits[last])) last++;
  const right = bits.slice(first, last);
  if (left.length < GOOD || right.length < GOOD) return undefined;
  const isNear = start - left[left.length - 1].end < near && right[0].start - end < near;
  return isNear ? [left, right] : undefined;
}

/** Does this bit begin where the one before it ends? */
function follows(bits: readonly PathBit[], index: number): boolean {
  return index > 0 && index < bits.length && bits[index].start === bits[index - 1].end;
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
class Stretch {
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

  /** Its bits, if some agree with the tape. */
  bits(): HoleBit[] | undefined {
    const orders = this.orders();
    if (orders === undefined || orders.length === 0) return undefined;
    return this.placed(orders);
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
      all?.push(...(this.ordersWith(LIKE_A_REST) ?? []));
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
