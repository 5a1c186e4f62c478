/**
 * A witness of its own for each bit: how long it took, against those around it. Where the tape was
 * cut and joined, or a player stuttered, the pulses may look right and the time does not. What is cut
 * from a 1, or comes twice in a 0, in just the time by which a 1 is longer, no witness shows.
 */
import { BIT_SECONDS } from '../../machine/tape-signal.js';
import type { TapeBit } from '../hearing/bit-finder.js';

/** Bits on each side by which one is measured. */
const AROUND = 8;
/** Seconds by which one bit, two and three together may be off at most and still be believed. */
const MOST_OFF = [0.00019, 0.00026, 0.00035];
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
/** Or no more than this below nine of ten around it, and then less is enough still. */
const LESS_SURE = 0.05;
const SUSPECTED = 0.5;

/** The bits again, less sure where their time is wrong. */
export function weakenMistimed<Bit extends TapeBit>(bits: readonly Bit[]): Bit[] {
  const worst = mostOff(bits);
  const suspects = suspectsOf(bits);
  return bits.map((bit, i) => {
    const isOff = worst[i] > (suspects[i] ? SUSPECTED : bit.sure > HARDLY_SURE ? 1 : NEARLY);
    return isOff && bit.sure > MISTIMED ? { ...bit, sure: MISTIMED } : bit;
  });
}

/**
 * The bits again, those under holes in doubt, if the time of others is wrong: what can be under a hole
 * follows from its time, and where a tape was cut, or a player stuttered, it can look like a hole.
 */
export function doubtHoles<Bit extends TapeBit>(bits: readonly Bit[]): readonly Bit[] {
  if (!bits.some(({ hole }) => hole !== undefined)) return bits;
  const worst = mostOff(bits);
  const isWrong = ({ hole, sure }: TapeBit, i: number) =>
    hole === undefined && worst[i] > 1 && sure > MISTIMED;
  if (!bits.some(isWrong)) return bits;
  return bits.map((bit) =>
    bit.hole === undefined ? bit : { ...bit, hole: undefined, sure: Math.min(bit.sure, MISTIMED) },
  );
}

/**
 * The most that each bit is off, alone or with its neighbours, as a part of what is believed. A click may
 * move the edge between two bits: what the one is too long the other is too short, and together they
 * are not off. So what a bit beside them makes up for does not count.
 */
function mostOff(bits: readonly TapeBit[]): Float64Array {
  const off = timesOff(bits);
  const believed = believedOff(off);
  const worst = new Float64Array(bits.length);
  MOST_OFF.forEach((most, more) => {
    for (let first = 0; first + more < bits.length; first++) {
      const last = first + more;
      let sum = 0;
      for (let i = first; i <= last; i++) sum += off[i];
      const left = Math.abs(sum + (off[first - 1] ?? 0));
      const right = Math.abs(sum + (off[last + 1] ?? 0));
      const least = Math.min(Math.abs(sum), left, right);
      const part = (least / most) * (MOST_OFF[0] / believed[first]);
      for (let i = first; i <= last; i++) worst[i] = Math.max(worst[i], part);
    }
  });
  return worst;
}

/** Which bits are less sure than nearly all around them. */
function suspectsOf(bits: readonly TapeBit[]): boolean[] {
  const suspects: boolean[] = [];
  for (let from = 0; from < bits.length; from += BLOCK) {
    const near = bits.slice(Math.max(0, from - BLOCK), from + 2 * BLOCK).map(({ sure }) => sure);
    const least = near.sort((a, b) => a - b)[Math.floor(0.1 * near.length)] - LESS_SURE;
    for (const { sure } of bits.slice(from, from + BLOCK)) suspects.push(sure < least);
  }
  return suspects;
}

/** Seconds by which each bit may be off and still be believed, as uneven as those around it are. */
function believedOff(off: Float64Array): Float64Array {
  const believed = new Float64Array(off.length);
  for (let from = 0; from < off.length; from += BLOCK) {
    const near = off
      .slice(Math.max(0, from - BLOCK), from + 2 * BLOCK)
      .map(Math.abs)
      .sort();
    const usual = near[Math.floor(0.9 * near.length)];
    believed.fill(Math.min(MOST_OFF[0], EVEN_OFF + UNEVEN * usual), from, from + BLOCK);
  }
  return believed;
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
