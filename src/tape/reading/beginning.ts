/** Where in a row of bits a program begins; its unclear zones are settled on the way. */

import { HEAD_SIZE, HEADER_SIZE, statedLength } from '../../machine/image-layout.js';
import { NAME_END } from '../../machine/tape-signal.js';
import { SURE_ENOUGH, type TapeBit } from '../hearing/bit-finder.js';
import { weakenMistimed } from '../mending/bit-lengths.js';
import type { Budget } from '../mending/budget.js';
import { bytesOfBits, imageOfTape } from '../mending/bytes-of-bits.js';
import { settleHoles } from '../mending/hole-settling.js';
import {
  areaOffsets,
  checkStructure,
  LONGEST_NAME,
  NAME_CODES,
  pointersAgree,
} from '../mending/image-structure.js';
import { withNewEnd } from '../mending/lost-end.js';
import { type Headed, withNewHead, withNewPointers } from '../mending/lost-head.js';
import { backInStep } from '../mending/lost-step.js';
import { timeless } from '../mending/made-bits.js';
import { clearBits, holeBefore, weakenNeighbours } from '../mending/unclear-zones.js';
import { type Settled, type SettledBit, settleZones } from '../mending/zone-settling.js';

/** Bits at the beginning that noise may have added, or the tape lost. */
const STRAY_BITS = 16;
const LOST_BITS = 3;
/** A piece with fewer clear bits, or a smaller part of them clear, is not worth a word: tones have such. */
const FRAGMENT_CLEAR_BITS = 320;
const FRAGMENT_CLEAR_PART = 0.5;
/** Beginnings that are tried. */
const MOST_PLACES = 4;
/** An image that holds together to its last byte is better than any that does not. */
const WHOLE = 1e6;
/** So many clear bits right before a name may be a part of it. */
const CLEAR_BEFORE_NAME = 1;
/** Or so many that are not clear, without a gap. */
const UNCLEAR_BEFORE_NAME = 4;

export interface Beginning {
  /** The bits from the name on. */
  readonly settled: Settled;
  /** Those before it. */
  readonly skipped: TapeBit[];
}

/** Where a name and then a sensible head of an image begin; the unclear zones are settled. */
export function findBeginning(bits: readonly TapeBit[], budget: Budget): Beginning | undefined {
  let best: Beginning | undefined;
  let most = 0;
  /** Takes this beginning if it is better than the best; is it whole? */
  const consider = (settled: Settled, skipped: TapeBit[]) => {
    if (headAt(settled.bits, 0) !== 'head') return false;
    const good = goodness(settled);
    // A head that nothing speaks for, and that no line follows, is one by chance.
    if (good <= HEADER_SIZE && headWorth(settled.bits, 0) === 0) return false;
    if (best === undefined || good > most) {
      best = { settled, skipped };
      most = good;
    }
    return good >= WHOLE;
  };
  // A hole in the head may hide where it begins until the structure has told what is under it.
  const clear = Math.max(0, firstClear(bits));
  const row = from(bits, clear);
  const head = row.slice(0, 8 * (LONGEST_NAME + HEADER_SIZE));
  const told = head.some(({ hole }) => hole !== undefined) ? settleHoles(row, budget) : row;
  const isTold = told !== row;
  if (isTold && consider(settleRest(told, budget), bits.slice(0, clear))) return best;
  for (const place of likelyPlaces(bits)) {
    const isTried = isTold && place === clear;
    const skipped = bits.slice(0, Math.max(0, place));
    if (!isTried && consider(settle(from(bits, place), budget), skipped)) return best;
    // Lines that follow from the head show that this is the beginning, whatever comes later.
    if (most > HEADER_SIZE) break;
  }
  if (best === undefined && consider(settle(bits, budget), [])) return best;
  // Not one line that follows from its head: then that may be what the tape has lost.
  if (most <= HEADER_SIZE && isFragment(bits) && !budget.isSpent()) {
    for (const { bits: headed, skipped } of newHeads(weakened(bits))) {
      consider(settleAgain(settleZones(headed, budget), budget), skipped);
    }
  }
  return best;
}

/** The bits with new pointers after the name, if there is one, and with a head that is all new. */
function newHeads(bits: readonly SettledBit[]): Headed[] {
  const place = firstClear(bits);
  const nameSize = nameLength(bits, place);
  const headed = withNewHead(bits);
  return [
    ...(nameSize === undefined ? [] : withNewPointers(from(bits, place), nameSize)),
    ...(headed ? [headed] : []),
  ];
}

/** Enough clear bits to be a part of a program. */
export function isFragment(bits: readonly TapeBit[]): boolean {
  const clear = clearBits(bits);
  return clear >= FRAGMENT_CLEAR_BITS && clear >= FRAGMENT_CLEAR_PART * bits.length;
}

/** Bytes of the image that hold together; if all of them do, WHOLE and the number of its lines. */
function goodness({ bits }: Settled): number {
  const image = imageOfTape(bytesOfBits(bits));
  const { good, walk, whole } = checkStructure(image.subarray(0, areaOffsets(image)?.end));
  return whole ? WHOLE + walk.lines : good;
}

/** The place of the first clear bit; −1 where there is none. */
const firstClear = (bits: readonly TapeBit[]): number =>
  bits.findIndex(({ sure }) => sure >= SURE_ENOUGH);

/** Places at which a name and a head can be read, the likeliest first. */
function likelyPlaces(bits: readonly TapeBit[]): number[] {
  const clear = firstClear(bits);
  // The first bits may be less clear than they are for the company of stray ones before them.
  const likely = [clear, clear - 1, clear - 2, clear - 3].filter((place) => place >= 0);
  const places = new Set(likely);
  for (let i = 0; i < bits.length; i++) {
    if (i === 0 || holeBefore(bits, i)) {
      for (let k = -LOST_BITS; k <= STRAY_BITS; k++) places.add(i + k);
    }
  }
  // Best if the image ends where the bits do, and all its pointers make sense; then where bits begin
  // to be clear, or where a stretch of them begins at all.
  const rank = (place: number) => {
    const begins = place === 0 || (place > 0 && holeBefore(bits, place));
    return headWorth(bits, place) + (likely.includes(place) ? 2 : begins ? 1 : 0);
  };
  return [...places]
    .filter((place) => headAt(bits, place) === 'head')
    .map((place) => ({ place, rank: rank(place) }))
    .sort((a, b) => b.rank - a.rank)
    .slice(0, MOST_PLACES)
    .map(({ place }) => place);
}

/** How much speaks for the head that begins here: 8 for its length, 4 for its other pointers. */
function headWorth(bits: readonly TapeBit[], place: number): number {
  const bytes = bytesOfBits(from(bits, place, 8 * (LONGEST_NAME + HEADER_SIZE)));
  const image = imageOfTape(bytes);
  const size = bytes.length - image.length + statedLength(image)!;
  const fits = Math.abs(bits.length - place - 8 * size) <= STRAY_BITS;
  return (fits ? 8 : 0) + (pointersAgree(image) ? 4 : 0);
}

/** Settles the unclear zones; and again, where bits were lost or doubled without a sound of it. */
function settle(bits: readonly SettledBit[], budget: Budget): Settled {
  return settleRest(settleHoles(bits, budget), budget);
}

/** The same, where what is under holes is settled. */
function settleRest(bits: readonly SettledBit[], budget: Budget): Settled {
  return settleAgain(settleZones(weakened(bits), budget), budget);
}

/** The bits less sure where their time is wrong, or where others beside them are unclear. */
function weakened(bits: readonly SettledBit[]): SettledBit[] {
  return weakenNeighbours(weakenMistimed(bits));
}

function settleAgain(settled: Settled, budget: Budget): Settled {
  const nameSize = settled.whole ? undefined : nameLength(settled.bits, 0);
  // What holds together as far as it was heard has lost nothing but its end.
  if (nameSize === undefined || withNewEnd(settled.bits, nameSize) !== undefined) return settled;
  const inStep = backInStep(settled.bits, nameSize, budget);
  return inStep === settled.bits ? settled : settleZones(inStep, budget);
}

/**
 * The bits from a place on, or so many of them; before the first there may have been zeros that were
 * lost. Where others come right before a name, some of it may have been among them.
 */
function from(bits: readonly TapeBit[], place: number, count = bits.length): SettledBit[] {
  if (place < 0) {
    const lost: SettledBit = { ...timeless(0, bits[0]), sure: 0, other: 1 };
    return [...new Array<SettledBit>(-place).fill(lost), ...bits.slice(0, count)];
  }
  const row: SettledBit[] = bits.slice(place, place + count);
  if (!isCutBefore(bits, place)) return row;
  return row.map((bit, i) => (i < 8 ? { ...bit, chosen: true } : bit));
}

/** Do bits come right before this one that may be more of the same name? */
function isCutBefore(bits: readonly TapeBit[], place: number): boolean {
  const before = bits.slice(Math.max(0, place - 8 * LONGEST_NAME), place);
  if (clearBits(before) >= CLEAR_BEFORE_NAME) return true;
  let at = place;
  while (at > 0 && !holeBefore(bits, at)) at--;
  return at > 0 || place >= UNCLEAR_BEFORE_NAME;
}

function byteAt(bits: readonly { readonly bit: 0 | 1 }[], at: number): number {
  let byte = 0;
  for (let i = at; i < at + 8; i++) byte = 2 * byte + (bits[i]?.bit ?? 0);
  return byte;
}

/** Bytes of a name that begins at this bit (zeros stand before the first), or undefined if none can. */
export function nameLength(
  bits: readonly { readonly bit: 0 | 1 }[],
  place: number,
): number | undefined {
  for (let i = 0; i < LONGEST_NAME && place + 8 * i + 8 <= bits.length; i++) {
    const byte = byteAt(bits, place + 8 * i);
    if ((byte & ~NAME_END) >= NAME_CODES) return undefined;
    if (byte & NAME_END) return i + 1;
  }
  return undefined;
}

/** Does a name begin at this bit, and perhaps with the head of an image after it? */
function headAt(bits: readonly TapeBit[], place: number): 'head' | 'name' | undefined {
  const name = nameLength(bits, place);
  if (name === undefined) return undefined;
  if (bits.length < place + 8 * (name + HEAD_SIZE)) return undefined;
  const first = place + 8 * name;
  const head = Uint8Array.from({ length: HEAD_SIZE }, (_, i) => byteAt(bits, first + 8 * i));
  return areaOffsets(head) ? 'head' : 'name';
}
