/**
 * Bits under holes by what an image must satisfy. A hole leaves some orders of bits that the sound
 * agrees with (hearing/hole-stretch.ts); all of them, of all holes together, are gone through bit by bit, and
 * kept as long as an image can begin with them. Where every image that is left at the end has the same
 * bit, it is as sure as if it had been heard: no other would have left this sound and be an image.
 */
import { BIT_SECONDS } from '../../machine/tape-signal.js';
import { SURE_ENOUGH, sureByLead, type TapeBit } from '../hearing/bit-finder.js';
import { type BitOrder, leadsOf } from '../hearing/hole-stretch.js';
import type { Budget } from './budget.js';
import { ImageScan } from './image-scan.js';
import { holeBefore } from './unclear-zones.js';
import type { SettledBit } from './zone-settling.js';

/** Beginnings of an image that are kept at the same time; with more, nothing is said. */
const MOST_KEPT = 3000;
/** Bytes for which a bit counts that is pushed to one of them, and one that is begun. */
const BIT_COST = 1;
const COPY_COST = 30;
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
  const places = placesOf(bits);
  if (places === undefined || places.length === 0 || budget.isSpent()) return bits;
  const layers = goThrough(bits, places, budget);
  if (layers === undefined) return bits;
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
    result.push(...bits.slice(at, from), ...placed(bits.slice(from, to), rows));
    at = to;
  }
  return [...result, ...bits.slice(at)];
}

/** The holes, each whole. */
function placesOf(bits: readonly SettledBit[]): Place[] | undefined {
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
  let kept: Kept[] = [{ scan: new ImageScan(), cost: 0, ways: [], left: DEAD }];
  if (goOn(kept[0].scan, bits, 0, places[0].from) === undefined) return undefined;
  for (let index = 0; index < places.length; index++) {
    const { to, orders } = places[index];
    const next = places[index + 1]?.from ?? bits.length;
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
    kept = [...states.values()];
    if (kept.length === 0) return undefined;
    layers.push(kept);
  }
  const whole = kept.filter(({ scan }) => scan.piece === 'done');
  if (whole.length === 0) return undefined;
  layers[layers.length - 1] = whole;
  return layers;
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
