/**
 * A witness of its own for each bit: how long it took, against those around it. Where the tape was
 * cut and joined, or a player stuttered, the pulses may look right and the time does not. What is cut
 * from a 1, or comes twice in a 0, in just the time by which a 1 is longer, no witness shows.
 */
import { BIT_SECONDS } from '../../machine/tape-signal.js';
import type { TapeBit } from '../hearing/bit-finder.js';
import type { SettledBit } from './zone-settling.js';

/** Bits on each side by which one is measured. */
const AROUND = 8;
/** Seconds by which one bit, two and three together may be off at most and still be believed. */
const MOST_OFF = [0.00024, 0.00033, 0.00044];
/** Less where the bits around come evenly: this, and so many times what nine of ten are off at most. */
const EVEN_OFF = 0.00004;
const UNEVEN = 4;
/** Bits in a row for which that is taken, with as many on each side. */
const BLOCK = 64;
/** Seconds between two bits that follow each other. */
const SAME = 0.00005;
/** How sure a bit of the wrong length can be at most. */
const MISTIMED = 0.4;
/** So much less is enough where a bit is no more than this sure: two half witnesses against it. */
const NEARLY = 0.7;
const HARDLY_SURE = 0.65;
/** Less still where it is by so much less sure than nine of ten around it, and off all alone. */
const LESS_SURE = 0.05;
const ALONE_OFF = 0.000012;
/** Two such bits, each of which may be the other one, may have changed places if the edge between them is off by this. */
const SWAPPED_OFF = 0.00014;

/** The bits again, less sure where their time is wrong. */
export function weakenMistimed<Bit extends SettledBit>(bits: readonly Bit[]): Bit[] {
  const { off, alone, worst } = mostOff(bits);
  const least = usualLeast(bits);
  const isSuspect = (i: number) => bits[i].sure < least[i] - LESS_SURE;
  /** 01 takes as long as 10: only the edge between them tells one from the other. */
  const maySwap = (i: number) => {
    const [one, two] = [bits[i], bits[i + 1]];
    if (!one || !two || one.bit === two.bit) return false;
    if (one.other !== two.bit || two.other !== one.bit || !isSuspect(i) || !isSuspect(i + 1))
      return false;
    return Math.abs(off[i]) > SWAPPED_OFF && Math.abs(off[i + 1]) > SWAPPED_OFF;
  };
  return bits.map((bit, i) => {
    const isOff =
      worst[i] > (bit.sure > HARDLY_SURE ? 1 : NEARLY) ||
      (isSuspect(i) && alone[i] > 1) ||
      maySwap(i) ||
      maySwap(i - 1);
    if (!isOff) return bit;
    return { ...bit, sure: Math.min(bit.sure, MISTIMED), mistimed: worst[i] > 1 };
  });
}

/**
 * The bits again, those under holes in doubt, if the time of others is wrong: what can be under a hole
 * follows from its time, and where a tape was cut, or a player stuttered, it can look like a hole.
 */
export function doubtHoles<Bit extends TapeBit>(bits: readonly Bit[]): readonly Bit[] {
  if (!bits.some(({ hole }) => hole !== undefined)) return bits;
  const { worst } = mostOff(bits);
  const isWrong = ({ hole, sure }: TapeBit, i: number) =>
    hole === undefined && worst[i] > 1 && sure > MISTIMED;
  if (!bits.some(isWrong)) return bits;
  return bits.map((bit) =>
    bit.hole === undefined ? bit : { ...bit, hole: undefined, sure: Math.min(bit.sure, MISTIMED) },
  );
}

/**
 * The most that each bit is off, alone and with its neighbours, as a part of what is believed. A click may
 * move the edge between two bits: what the one is too long the other is too short, and together they
 * are not off. So what a bit beside them makes up for does not count.
 */
function mostOff(bits: readonly TapeBit[]) {
  const off = timesOff(bits);
  const uneven = usualOff(off);
  const worst = new Float64Array(bits.length);
  const alone = new Float64Array(bits.length);
  MOST_OFF.forEach((most, more) => {
    for (let first = 0; first + more < bits.length; first++) {
      const last = first + more;
      let sum = 0;
      for (let i = first; i <= last; i++) sum += off[i];
      const left = Math.abs(sum + (off[first - 1] ?? 0));
      const right = Math.abs(sum + (off[last + 1] ?? 0));
      const least = Math.min(Math.abs(sum), left, right);
      const believed = Math.min(MOST_OFF[0], EVEN_OFF + UNEVEN * uneven[first]);
      const part = (least / most) * (MOST_OFF[0] / believed);
      for (let i = first; i <= last; i++) worst[i] = Math.max(worst[i], part);
      if (more === 0) alone[first] = least / (ALONE_OFF + UNEVEN * uneven[first]);
    }
  });
  return { off, alone, worst };
}

/** How sure nine of ten bits around each are at least. */
function usualLeast(bits: readonly TapeBit[]): Float64Array {
  const sure = new Float64Array(bits.length);
  for (let i = 0; i < bits.length; i++) sure[i] = bits[i].sure;
  return around(sure, 0.1);
}

/** Seconds by which nine of ten bits around each are off at most. */
const usualOff = (off: Float64Array) => around(off.map(Math.abs), 0.9);

/** The value below which this part of those lies that are around each, for a BLOCK of them at once. */
function around(values: Float64Array, part: number): Float64Array {
  const result = new Float64Array(values.length);
  for (let from = 0; from < values.length; from += BLOCK) {
    const near = values.slice(Math.max(0, from - BLOCK), from + 2 * BLOCK).sort();
    result.fill(near[Math.floor(part * near.length)], from, from + BLOCK);
  }
  return result;
}

/**
 * Seconds by which each bit is too long; 0 where that is not known: under a hole, and beside a gap, where
 * no pulse shows the end of its rest, or the sound begins with it.
 */
function timesOff(bits: readonly TapeBit[]): Float64Array {
  const ratios = new Float64Array(bits.length);
  for (const [i, { bit, start, end, speed }] of bits.entries()) {
    ratios[i] = ((end - start) * speed) / BIT_SECONDS[bit];
  }
  const off = new Float64Array(bits.length);
  const near = new SortedWindow(2 * AROUND + 1);
  for (let i = 0; i < Math.min(AROUND, bits.length); i++) near.add(ratios[i]);
  for (let i = 0; i < bits.length; i++) {
    if (i + AROUND < bits.length) near.add(ratios[i + AROUND]);
    if (i > AROUND) near.remove(ratios[i - AROUND - 1]);
    const { bit, hole, start, end, speed } = bits[i];
    const isBetween = start - bits[i - 1]?.end < SAME && bits[i + 1]?.start - end < SAME;
    if (hole !== undefined || !isBetween) continue;
    off[i] = ((ratios[i] - near.middleMean()) * BIT_SECONDS[bit]) / speed;
  }
  return off;
}

/** A few values in order, one of which comes or goes at a time. */
class SortedWindow {
  private readonly values: Float64Array;
  private count = 0;

  constructor(most: number) {
    this.values = new Float64Array(most + 1);
  }

  add(value: number): void {
    const { values } = this;
    let at = this.count++;
    for (; at > 0 && values[at - 1] > value; at--) values[at] = values[at - 1];
    values[at] = value;
  }

  remove(value: number): void {
    const { values } = this;
    let at = 0;
    while (at < this.count && values[at] !== value) at++;
    for (this.count--; at < this.count; at++) values[at] = values[at + 1];
  }

  /** Mean of the middle half: bits begin at whole steps, so a single one of them says too little. */
  middleMean(): number {
    const from = this.count >> 2;
    const to = this.count - from;
    let sum = 0;
    for (let i = from; i < to; i++) sum += this.values[i];
    return sum / (to - from);
  }
}
