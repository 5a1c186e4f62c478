/**
 * What the information left in a sound with holes allows. Where samples are gone, other bits would
 * have left the same sound; of all rows of bits that would, only those count that an image can be.
 * A program can be read whole where its own row alone is left. No reader can do better, since it has
 * the sound only: neither the true bytes nor which quiet is a hole.
 */
import {
  BIT_SECONDS,
  PULSE_HIGH_US,
  PULSE_LOW_US,
  PULSES_OF_BIT,
} from '../../src/machine/tape-signal.js';
import { bytesOfBits } from '../../src/tape/mending/bytes-of-bits.js';
import { areaOffsets, checkStructure } from '../../src/tape/mending/image-structure.js';
import { nameLength } from '../../src/tape/reading/beginning.js';
import { type TapeProgram, tapeBytes } from '../../src/tape/writing/tape-bytes.js';
import type { Sound } from '../tape/damage.js';

interface Bit {
  readonly bit: 0 | 1;
}

/** Times within a sound, in microseconds. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/** A stretch of bits with gone samples in it, and every row of bits that leaves the same sound. */
interface Gap {
  readonly from: number;
  readonly to: number;
  readonly rows: readonly (readonly Bit[])[];
}

const BITS: readonly Bit[] = [{ bit: 0 }, { bit: 1 }];
const BIT_US = BIT_SECONDS.map((seconds) => seconds * 1e6);
const PULSE_US = PULSE_HIGH_US + PULSE_LOW_US;
/** So little of another sound cannot be told: a sample, and what the speed is known to. */
const ALIKE_US = 60;
/** Holes nearer to each other than this are one gap: bits may lie under both. */
const NEAR_US = 9000;
/** Rows that are tried for all gaps together; if no second one was found by then, there is none. */
const MOST_TRIED = 300_000;

/** Is this program the only one that could have left the damaged sound, where samples are gone in it? */
export function isAllowed(program: TapeProgram, clean: Sound, damaged: Sound): boolean {
  const bits = bitsOf(tapeBytes(program));
  const starts = startsOf(bits, clean);
  const gaps = goneIn(clean, damaged).map((gone) => gapAt(bits, starts, gone));
  let [own, tried] = [0, 0];
  const place = (row: Bit[], index: number): boolean => {
    if (index === gaps.length) {
      tried++;
      if (canBe([...row, ...bits.slice(gaps.at(-1)?.to ?? 0)])) own++;
      return own > 1 || tried > MOST_TRIED;
    }
    const between = bits.slice(gaps[index - 1]?.to ?? 0, gaps[index].from);
    return gaps[index].rows.some((one) => place([...row, ...between, ...one], index + 1));
  };
  place([], 0);
  return own <= 1;
}

function bitsOf(bytes: Uint8Array): Bit[] {
  return [...bytes].flatMap((byte) =>
    Array.from({ length: 8 }, (_, i) => BITS[(byte >> (7 - i)) & 1]),
  );
}

/** When each bit begins, and the last one ends, by the first edge of the clean sound. */
function startsOf(bits: readonly Bit[], { rate, samples }: Sound): number[] {
  const first = samples.findIndex((sample) => sample > 0);
  // A sample is the mean of its own time, so it tells where in it the edge is.
  const height = samples.reduce((most, sample) => Math.max(most, sample), 0);
  const edge = first - samples[first] / (2 * height);
  const starts = [(1e6 * edge) / rate];
  for (const { bit } of bits) starts.push(starts[starts.length - 1] + BIT_US[bit]);
  return starts;
}

/** Where nothing at all is left of a sound that is never quite 0 in a program. */
function goneIn(clean: Sound, damaged: Sound): Span[] {
  const gone: Span[] = [];
  let from: number | undefined;
  const us = (sample: number) => (1e6 * sample) / clean.rate;
  clean.samples.forEach((sample, i) => {
    const isGone = Math.abs(sample) > 0.1 && Math.abs(damaged.samples[i]) < 1 / 32768;
    if (isGone) from ??= i;
    if (isGone || from === undefined) return;
    const last = gone[gone.length - 1];
    if (last !== undefined && us(from) - last.to < NEAR_US) {
      gone[gone.length - 1] = { from: last.from, to: us(i) };
    } else gone.push({ from: us(from), to: us(i) });
    from = undefined;
  });
  return gone;
}

/** The bits from the last that begins before the gone samples to the first boundary after them. */
function gapAt(bits: readonly Bit[], starts: readonly number[], gone: Span): Gap {
  const after = starts.findIndex((start) => start > gone.from);
  const from = (after < 0 ? starts.length : after) - 1;
  const rows: Bit[][] = [];
  const ends: number[] = [];
  const isAlike = (at: number, heardAt: number) => Math.abs(at - heardAt) <= ALIKE_US;
  const grow = (row: Bit[], at: number, amiss: number) => {
    const boundary = starts.findIndex((start) => isAlike(at, start));
    if (at > gone.to && boundary >= 0) {
      rows.push(row);
      ends.push(boundary);
      return;
    }
    for (const bit of BITS) {
      const end = at + BIT_US[bit.bit];
      const more = amiss + difference(bits, starts, bit, at, gone);
      if (more <= ALIKE_US && end <= starts[starts.length - 1] + ALIKE_US) {
        grow([...row, bit], end, more);
      }
    }
  };
  grow([], starts[from], 0);
  // All rows are made to end where the last of them does.
  const last = Math.max(...ends);
  return { from, to: last, rows: rows.map((row, i) => [...row, ...bits.slice(ends[i], last)]) };
}

/** Microseconds in which a bit that begins at `at` sounds other than the tape, where that is heard. */
function difference(
  bits: readonly Bit[],
  starts: readonly number[],
  bit: Bit,
  at: number,
  gone: Span,
): number {
  const grain = 10;
  let index = 0;
  let sum = 0;
  for (let time = at + grain / 2; time < at + BIT_US[bit.bit]; time += grain) {
    if (time >= gone.from && time < gone.to) continue;
    while (index < bits.length - 1 && starts[index + 1] <= time) index++;
    const own = isHigh(bits[index], time - starts[index]);
    if (own !== isHigh(bit, time - at)) sum += grain;
  }
  return sum;
}

function isHigh({ bit }: Bit, since: number): boolean {
  if (since < 0) return false;
  return since < PULSES_OF_BIT[bit] * PULSE_US && since % PULSE_US < PULSE_HIGH_US;
}

/** Can these bits be a name and an image? */
function canBe(row: readonly Bit[]): boolean {
  const nameSize = nameLength(row, 0);
  if (nameSize === undefined || row.length % 8 !== 0) return false;
  const image = bytesOfBits(row).subarray(nameSize);
  if (areaOffsets(image) === undefined) return false;
  const { whole, walk } = checkStructure(image);
  return whole && walk.oddities === 0;
}
