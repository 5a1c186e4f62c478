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

/** The bits again, less sure where their time is wrong. */
export function weakenMistimed<Bit extends TapeBit>(bits: readonly Bit[]): Bit[] {
  const off = timesOff(bits);
  const isOff = new Uint8Array(bits.length);
  MOST_OFF.forEach((most, more) => {
    for (let first = 0; first + more < bits.length; first++) {
      let sum = 0;
      for (let i = first; i <= first + more; i++) sum += off[i];
      if (Math.abs(sum) > most) isOff.fill(1, first, first + more + 1);
    }
  });
  return bits.map((bit, i) => (bit.sure > MISTIMED && isOff[i] ? { ...bit, sure: MISTIMED } : bit));
}

/** Seconds by which each bit is too long. */
function timesOff(bits: readonly TapeBit[]): Float64Array {
  const ratios = Float64Array.from(
    bits,
    ({ bit, start, end, speed }) => ((end - start) * speed) / BIT_SECONDS[bit],
  );
  const off = new Float64Array(bits.length);
  for (let i = 0; i < bits.length; i++) {
    const near = ratios.slice(Math.max(0, i - AROUND), i + AROUND + 1).sort();
    const usual = middleMean(near);
    off[i] = ((ratios[i] - usual) * BIT_SECONDS[bits[i].bit]) / bits[i].speed;
  }
  return off;
}

/** Mean of the middle half: bits begin at whole steps, so a single one of them says too little. */
function middleMean(sorted: Float64Array): number {
  const middle = sorted.subarray(sorted.length >> 2, sorted.length - (sorted.length >> 2));
  return middle.reduce((sum, value) => sum + value, 0) / middle.length;
}
