/**
 * Bits under holes by what an image must satisfy. A hole leaves some orders of bits that the sound
 * agrees with (hearing/hole-stretch.ts); all of them, of all holes together, are gone through bit by bit, and
 * kept as long as an image can begin with them. Where every image that is left at the end has the same
 * bit, it is as sure as if it had been heard: no other would have left this sound and be an image.
 */
import { VARIABLES_END } from '../../machine/memory-map.js';
import { BIT_SECONDS } from '../../machine/tape-signal.js';
import { SURE_ENOUGH, sureByLead, type TapeBit } from '../hearing/bit-finder.js';
import { type BitOrder, leadsOf } from '../hearing/hole-stretch.js';
import type { Budget } from './budget.js';
import { everyRow } from './bytes-of-bits.js';
import { ImageScan } from './image-scan.js';
import { holeBefore } from './unclear-zones.js';
import type { SettledBit } from './zone-settling.js';

/** Beginnings of an image that are kept at the same time; with more, nothing is said. */
const MOST_KEPT = 3000;
/** Bytes for which a bit counts that is pushed to one of them, and one that is begun. */
const BIT_COST = 1;
const COPY_COST = 30;
/** So many bits at the end can be under a hole that is bridged: the last byte is a 1 and seven 0s. */
const MOST_MISSING = 10;
/** By so much the sound may agree less with what the structure leaves than with what it rules out. */
const MOST_AGAINST = 8;

const DEAD = Number.POSITIVE_INFINITY;

/** Bits `from` to, not including, `to`, which may be any of these orders. */
interface Place {
  readonly from: number;
  readonly to: number;
  readonly orders: readonly BitOrder[];
}

/** A beginning of an image, and how it was come to. */
interface Kept {
  readonly scan: ImageScan;
  /** The least that the sound disagrees with any way to it. */
  cost: number;
  readonly ways: Way[];
  /** The least that it disagrees with any way from here to a whole image. */
  left: number;
}

/** What may be at each place, and what is left of an image after each. */
interface Ways {
  readonly places: readonly Place[];
  readonly layers: readonly Kept[][];
}

interface Way {
  readonly before: Kept;
  readonly order: number;
  readonly cost: number;
}

/**
 * The bits with those under holes as the structure leaves them; the same where it does not tell.
 * @param bits from the name on
 */
export function settleHoles(bits: readonly SettledBit[], budget: Budget): readonly SettledBit[] {
  const holes = holesOf(bits);
  if (holes === undefined || budget.isSpent()) return bits;
  const ways = throughHoles(bits, holes, budget) ?? toUnheardEnd(bits, holes, budget);
  if (ways === undefined) return bits;
  const { places, layers } = ways;
  const totals = totalsOf(places, layers);
  const result: SettledBit[] = [];
  let at = 0;
  for (const [index, { from, to, orders }] of places.entries()) {
    const left = orders
      .map((order, i) => ({ ...order, total: totals[index][i] }))
      .filter(({ total }) => total < Number.POSITIVE_INFINITY)
      .sort((a, b) => a.total - b.total);
    if (left[0].cost - orders[0].cost > MOST_AGAINST) return bits;
    const rows = left.map(({ bits, total }) => ({ bits, cost: total }));
    const isEnd = index === holes.length;
    const own = isEnd ? ended(bits[from - 1], rows) : placed(bits.slice(from, to), rows);
    result.push(...bits.slice(at, from), ...own);
    at = to;
  }
  return [...result, ...bits.slice(at)];
}

/** Every way through the holes to the end of an image. */
function throughHoles(
  bits: readonly SettledBit[],
  holes: readonly Place[],
  budget: Budget,
): Ways | undefined {
  const layers = goThrough(bits, holes, budget);
  const whole = layers?.at(-1)?.filter(isWhole) ?? [];
  return layers && whole.length > 0
    ? { places: holes, layers: [...layers.slice(0, -1), whole] }
    : undefined;
}

/**
 * The same where the last bits were not heard at all, for a hole lies over them. How many they are
 * the image's own pointers say, and its last byte is always the same.
 * @returns undefined if more than one end is left
 */
function toUnheardEnd(
  bits: readonly SettledBit[],
  holes: readonly Place[],
  budget: Budget,
): Ways | undefined {
  let count = bits.length;
  while (count > 0 && bits[count - 1].sure < SURE_ENOUGH) count--;
  if (isHeardWhole(bits, count)) return undefined;
  // A 1 that is cut off within its pulses looks like a 0.
  const from = bits[count - 1]?.bit === 0 ? count - 1 : count;
  if (from < Math.max(1, holes.at(-1)?.to ?? 0)) return undefined;
  const heard = bits.slice(0, from);
  const layers = goThrough(heard, holes, budget);
  if (layers === undefined) return undefined;
  const last = layers.at(-1) ?? begun(heard, from);
  const lengths = new Set(last.map(({ scan }) => scan.bitsLeft ?? 0));
  const orders = [...lengths].flatMap(endsOf).map((end) => ({ bits: end, cost: 0 }));
  const end = { from, to: bits.length, orders };
  const whole = goOver(heard, { ...end, to: from }, from, last, budget)?.filter(isWhole) ?? [];
  const ends = new Set(whole.flatMap(({ ways }) => ways.map(({ order }) => order)));
  return ends.size === 1 ? { places: [...holes, end], layers: [...layers, whole] } : undefined;
}

const isWhole = ({ scan }: Kept): boolean => scan.piece === 'done';

/** Do so many bits reach the end of the image, or stay so far from it that more than a hole is between? */
function isHeardWhole(bits: readonly SettledBit[], count: number): boolean {
  const scan = new ImageScan();
  for (let at = 0; at < count && scan.bitsLeft === undefined; at++) {
    // Under a hole in the head there may be any length.
    if (bits[at].hole !== undefined) return false;
    if (!scan.push(bits[at].bit)) return true;
    if (scan.bitsLeft !== undefined) return !isMissing(scan.bitsLeft - (count - at - 1));
  }
  return true;
}

const isMissing = (left: number): boolean => left > 0 && left <= MOST_MISSING;

/** The rows of so many bits that an image can end with, if a hole can have hidden them. */
function endsOf(count: number): (0 | 1)[][] {
  if (!isMissing(count)) return [];
  const last = [...VARIABLES_END.toString(2)].map((bit): 0 | 1 => (bit === '1' ? 1 : 0));
  if (count <= last.length) return [last.slice(-count)];
  return everyRow(count - last.length).map((before) => [...before, ...last]);
}

/** The holes, each whole. */
function holesOf(bits: readonly SettledBit[]): Place[] | undefined {
  const places: Place[] = [];
  for (let i = 0; i < bits.length; i++) {
    const { hole } = bits[i];
    if (hole === undefined) continue;
    let to = i + 1;
    while (to < bits.length && bits[to].hole === hole) to++;
    // A part of a hole, at an end of the row.
    if (to - i !== hole[0].bits.length) return undefined;
    places.push({ from: i, to, orders: hole });
    i = to - 1;
  }
  return places;
}

/** What is left after each hole and the bits that follow it; undefined if it is no image, or too much. */
function goThrough(
  bits: readonly SettledBit[],
  places: readonly Place[],
  budget: Budget,
): Kept[][] | undefined {
  const layers: Kept[][] = [];
  let kept = begun(bits, places[0]?.from ?? 0);
  for (const [index, place] of places.entries()) {
    const next = goOver(bits, place, places[index + 1]?.from ?? bits.length, kept, budget);
    if (next === undefined) return undefined;
    layers.push(next);
    kept = next;
  }
  return layers;
}

/** The bits before the first hole, if an image can begin with them. */
function begun(bits: readonly SettledBit[], to: number): Kept[] {
  const scan = new ImageScan();
  if (goOn(scan, bits, 0, to) === undefined) return [];
  return [{ scan, cost: 0, ways: [], left: DEAD }];
}

/** What is left of these after a hole and the bits up to `next` that follow it. */
function goOver(
  bits: readonly SettledBit[],
  { to, orders }: Place,
  next: number,
  kept: readonly Kept[],
  budget: Budget,
): Kept[] | undefined {
  const states = new Map<string, Kept>();
  for (const before of kept) {
    budget.spend(orders.length * COPY_COST);
    for (const [order, { bits: row, cost }] of orders.entries()) {
      const scan = before.scan.copy();
      if (!row.every((bit) => scan.push(bit))) continue;
      const pushed = goOn(scan, bits, to, next);
      if (pushed === undefined) continue;
      budget.spend(pushed * BIT_COST);
      const way = { before, order, cost };
      const state = scan.state;
      const same = states.get(state);
      if (same === undefined) {
        states.set(state, { scan, cost: before.cost + cost, ways: [way], left: DEAD });
      } else {
        same.cost = Math.min(same.cost, before.cost + cost);
        same.ways.push(way);
      }
    }
    if (states.size > MOST_KEPT || budget.isSpent()) return undefined;
  }
  return states.size > 0 ? [...states.values()] : undefined;
}

/** Pushes the bits `from` to `to` as they were heard, to the end of the image at most: how many, if they can be. */
function goOn(
  scan: ImageScan,
  bits: readonly SettledBit[],
  from: number,
  to: number,
): number | undefined {
  for (let at = from; at < to; at++) {
    if (scan.piece === 'done') return isEnd(bits, at) ? at - from : undefined;
    const isHeard = bits[at].sure >= SURE_ENOUGH && !(at > from && holeBefore(bits, at));
    if (!isHeard || !scan.push(bits[at].bit)) return undefined;
  }
  return to - from;
}

/** Can an image end before this bit? Clear bits that go on show that some before are too many. */
function isEnd(bits: readonly TapeBit[], at: number): boolean {
  let next = at;
  while (next < bits.length && !holeBefore(bits, next)) {
    if (bits[next].sure >= SURE_ENOUGH) return false;
    next++;
  }
  return true;
}

/** For each order of each place, the least that the sound disagrees with an image that has it. */
function totalsOf(places: readonly Place[], layers: readonly Kept[][]): number[][] {
  const totals = places.map(({ orders }) => orders.map(() => DEAD));
  for (const kept of layers[layers.length - 1]) kept.left = 0;
  for (let index = layers.length - 1; index >= 0; index--) {
    for (const { ways, left } of layers[index]) {
      for (const { before, order, cost } of ways) {
        const total = before.cost + cost + left;
        totals[index][order] = Math.min(totals[index][order], total);
        before.left = Math.min(before.left, cost + left);
      }
    }
  }
  return totals;
}

/** These bits in the order that is left, each as sure as all that are left make it. */
function placed(heard: readonly SettledBit[], left: readonly BitOrder[]): SettledBit[] {
  const { bits: row } = left[0];
  const leads = leadsOf(left);
  const [first, last] = [heard[0], heard[heard.length - 1]];
  const own = row.reduce((sum: number, bit) => sum + BIT_SECONDS[bit], 0);
  const stretch = (last.end - first.start) / own;
  const rest = first.end - first.rest;
  let at = first.start;
  return row.map((bit, i) => {
    const start = at;
    at += BIT_SECONDS[bit] * stretch;
    const sure = sureByLead(leads[i]);
    const other = (1 - bit) as 0 | 1;
    return { bit, start, rest: at - rest, end: at, sure, other, speed: first.speed, hole: left };
  });
}

/** The end as it is left, after the last bit that was heard. */
function ended({ end, speed }: TapeBit, [{ bits: row }]: readonly BitOrder[]): SettledBit[] {
  let at = end;
  return row.map((bit) => {
    const start = at;
    at += BIT_SECONDS[bit] / speed;
    return { bit, start, rest: at, end: at, sure: 1, other: undefined, speed };
  });
}
