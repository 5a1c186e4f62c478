/**
 * What the information left in a sound with holes allows. Where samples are gone, other bits would
 * have left the same sound: those whose pulses are all heard, or lie in a quiet that has a hole in
 * it. A rest beside a hole is as quiet as the hole, so the whole quiet is without a word on what was
 * there. Of all rows of bits that would have left this sound, those count that an image can be. A
 * program can be read whole where its own row alone is left: the true bytes are not taken for
 * granted anywhere, neither are those under one hole for another.
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
import { valuesOf } from '../tape/bits.js';
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
/** A part of the sound that counts as gone: 20 dB softer. */
const LEFT = 0.1;
/** Holes nearer to each other than this are in one gap: the same bits may lie under both. */
const NEAR_US = 9000;
/** Gone samples nearer than this are one hole: what is between them is an edge that crosses 0. */
const SAME_US = 300;
/** Steps in which sounds are compared. */
const GRAIN_US = 10;
/** Rows that are tried for all gaps together; if no second one was found by then, there is none. */
const MOST_TRIED = 300_000;

/** Is this program the only one that could have left the damaged sound, where samples are gone in it? */
export function isAllowed(program: TapeProgram, clean: Sound, damaged: Sound): boolean {
  const bits = valuesOf(tapeBytes(program)).map((bit) => BITS[bit]);
  const starts = startsOf(bits, clean);
  const gaps = goneIn(clean, damaged).map((gone) =>
    gapAt(bits, starts, quietIn(bits, starts, gone)),
  );
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

/** Holes: where next to nothing is left of a sound that is never quite 0 in a program; those near each other together. */
function goneIn(clean: Sound, damaged: Sound): Span[][] {
  const gone: Span[] = [];
  const us = (sample: number) => (1e6 * sample) / clean.rate;
  clean.samples.forEach((sample, i) => {
    if (Math.abs(sample) < 0.1 || Math.abs(damaged.samples[i]) >= LEFT * Math.abs(sample)) return;
    const last = gone[gone.length - 1];
    if (last !== undefined && us(i) - last.to < SAME_US) {
      gone[gone.length - 1] = { from: last.from, to: us(i + 1) };
    } else gone.push({ from: us(i), to: us(i + 1) });
  });
  const groups: Span[][] = [];
  for (const span of gone) {
    const group = groups[groups.length - 1];
    if (group !== undefined && span.from - group[group.length - 1].to < NEAR_US) group.push(span);
    else groups.push([span]);
  }
  return groups;
}

/** The whole quiet that each of these holes is in: to the pulses that are heard before and after it. */
function quietIn(bits: readonly Bit[], starts: readonly number[], gone: readonly Span[]): Span[] {
  const isHeard = (time: number) =>
    soundsAt(bits, starts, time) && !gone.some(({ from, to }) => time >= from && time < to);
  const [first, last] = [starts[0], starts[starts.length - 1]];
  return gone.map(({ from, to }) => {
    while (from > first && !isHeard(from - GRAIN_US)) from -= GRAIN_US;
    while (to < last && !isHeard(to)) to += GRAIN_US;
    return { from, to };
  });
}

/** Is a pulse high at this time? */
function soundsAt(bits: readonly Bit[], starts: readonly number[], time: number): boolean {
  let [low, high] = [0, bits.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (starts[middle] <= time) low = middle;
    else high = middle - 1;
  }
  return isHigh(bits[low], time - starts[low]);
}

/** The bits from the last that begins before the gone samples to the first boundary after them. */
function gapAt(bits: readonly Bit[], starts: readonly number[], quiet: readonly Span[]): Gap {
  const after = starts.findIndex((start) => start > quiet[0].from);
  const end = quiet[quiet.length - 1].to;
  const from = (after < 0 ? starts.length : after) - 1;
  const rows: Bit[][] = [];
  const ends: number[] = [];
  const isAlike = (at: number, heardAt: number) => Math.abs(at - heardAt) <= ALIKE_US;
  const grow = (row: Bit[], at: number, amiss: number) => {
    const boundary = starts.findIndex((start) => isAlike(at, start));
    if (at >= end - ALIKE_US && boundary >= 0) {
      rows.push(row);
      ends.push(boundary);
      return;
    }
    for (const bit of BITS) {
      const next = at + BIT_US[bit.bit];
      const more = amiss + difference(bits, starts, bit, at, quiet);
      if (more <= ALIKE_US && next <= starts[starts.length - 1] + ALIKE_US) {
        grow([...row, bit], next, more);
      }
    }
  };
  grow([], starts[from], 0);
  // All rows are made to end where the last of them does.
  const last = Math.max(...ends);
  return { from, to: last, rows: rows.map((row, i) => [...row, ...bits.slice(ends[i], last)]) };
}

/** Microseconds in which a bit that begins at `at` sounds other than the tape, where that tells. */
function difference(
  bits: readonly Bit[],
  starts: readonly number[],
  bit: Bit,
  at: number,
  quiet: readonly Span[],
): number {
  let sum = 0;
  for (let time = at + GRAIN_US / 2; time < at + BIT_US[bit.bit]; time += GRAIN_US) {
    if (quiet.some(({ from, to }) => time >= from && time < to)) continue;
    if (soundsAt(bits, starts, time) !== isHigh(bit, time - at)) sum += GRAIN_US;
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
