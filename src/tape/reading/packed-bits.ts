/** The bits of a program that was read, kept in 27 bytes each: a tape has a million of them. */
import type { TapeBit } from '../hearing/bit-finder.js';
import type { SettledBit } from '../mending/zone-settling.js';

const ONE = 1;
const OTHER = 2;
const OTHER_ONE = 4;
const CHOSEN = 8;
const DISAGREED = 16;
const REBUILT = 32;
const UNFINISHED = 64;
const COMPLETED = 128;

/** Bits in order of time. Of a zone's end nothing is kept: it has served when the program is read. */
export class PackedBits implements Iterable<TapeBit> {
  readonly length: number;
  private readonly starts: Float64Array;
  private readonly rests: Float32Array;
  private readonly spans: Float32Array;
  private readonly sures: Float32Array;
  private readonly speeds: Float32Array;
  private readonly flags: Uint8Array;

  constructor(bits: readonly SettledBit[]) {
    const { length } = bits;
    this.length = length;
    this.starts = new Float64Array(length);
    this.rests = new Float32Array(length);
    this.spans = new Float32Array(length);
    this.sures = new Float32Array(length);
    this.speeds = new Float32Array(length);
    this.flags = new Uint8Array(length);
    for (let i = 0; i < length; i++) {
      const bit = bits[i];
      this.starts[i] = bit.start;
      this.rests[i] = bit.rest - bit.start;
      this.spans[i] = bit.end - bit.start;
      this.sures[i] = bit.sure;
      this.speeds[i] = bit.speed;
      this.flags[i] = flagsOf(bit);
    }
  }

  at(index: number): SettledBit {
    const flags = this.flags[index];
    const start = this.starts[index];
    return {
      bit: flags & ONE ? 1 : 0,
      start,
      rest: start + this.rests[index],
      end: start + this.spans[index],
      sure: this.sures[index],
      other: flags & OTHER ? (flags & OTHER_ONE ? 1 : 0) : undefined,
      speed: this.speeds[index],
      chosen: (flags & CHOSEN) > 0,
      disagreed: (flags & DISAGREED) > 0,
      rebuilt: (flags & REBUILT) > 0,
      unfinished: (flags & UNFINISHED) > 0,
      completed: (flags & COMPLETED) > 0,
    };
  }

  *[Symbol.iterator](): Generator<SettledBit> {
    for (let i = 0; i < this.length; i++) yield this.at(i);
  }
}

function flagsOf(one: SettledBit): number {
  const { bit, other, chosen, disagreed, rebuilt, unfinished, completed } = one;
  return (
    (bit ? ONE : 0) |
    (other === undefined ? 0 : OTHER) |
    (other === 1 ? OTHER_ONE : 0) |
    (chosen ? CHOSEN : 0) |
    (disagreed ? DISAGREED : 0) |
    (rebuilt ? REBUILT : 0) |
    (unfinished ? UNFINISHED : 0) |
    (completed ? COMPLETED : 0)
  );
}
