/**
 * A witness of its own for each bit: how long it took, against those around it. Where the tape was
 * cut and joined, or a player stuttered, the pulses may look right and the time does not.
 */
import { BIT_SECONDS } from '../../machine/tape-signal.js';
import type { TapeBit } from '../hearing/bit-finder.js';

/** Bits on each side by which one is measured. */
const AROUND = 8;
/** Seconds by which one bit, two and three together may be off and still be believed. */
const MOST_OFF = [0.00019, 0.00026, 0.00035];
/** How sure a bit of the wrong length can be at most. */
const MISTIMED = 0.4;
/** So much less is enough where a bit is no more than this sure: two half witnesses against it. */
const NEARLY = 0.7;
const HARDLY_SURE = 0.65;

/** The bits again, less sure where their time is wrong. */
export function weakenMistimed<Bit extends TapeBit>(bits: readonly Bit[]): Bit[] {
  const off = timesOff(bits);
  /** The most that each bit is off, alone or with its neighbours, as a part of what is believed. */
  const worst = new Float64Array(bits.length);
  MOST_OFF.forEach((most, more) => {
    for (let first = 0; first + more < bits.length; first++) {
      let sum = 0;
      for (let i = first; i <= first + more; i++) sum += off[i];
      const part = Math.abs(sum) / most;
      for (let i = first; i <= first + more; i++) worst[i] = Math.max(worst[i], part);
    }
  });
  return bits.map((bit, i) => {
    const isOff = worst[i] > (bit.sure > HARDLY_SURE ? 1 : NEARLY);
    return isOff && bit.sure > MISTIMED ? { ...bit, sure: MISTIMED } : bit;
  });
}

/** Seconds by which each bit is too long. */
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
    const usual = near.middleMean();
    off[i] = ((ratios[i] - usual) * BIT_SECONDS[bits[i].bit]) / bits[i].speed;
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
