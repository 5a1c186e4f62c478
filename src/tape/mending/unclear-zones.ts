/**
 * Where the tape does not say clearly which bits there were: each such zone, and every row of bits
 * that fits its time. The image's own structure then chooses among them (zone-settling.ts).
 */

import { BIT_SECONDS } from '../../machine/tape-signal.js';
import { SURE_ENOUGH, type TapeBit } from '../hearing/bit-finder.js';
import { everyRow } from './bytes-of-bits.js';

/** A gap between bits that is longer than this part of a 0 is a hole in the tape. */
const HOLE = 0.5;
/** So many sure bits between two unclear ones do not part a zone: they may be sure of the wrong. */
const BRIDGED = 1;
/** Seconds, and part of the zone's length, by which a row of bits may miss it. */
const SLACK_SECONDS = 0.0003;
const SLACK_PART = 0.03;
/** How sure a 0 beside an unclear bit can be at most; and what is left of it for a 1. */
const ZERO_BESIDE = 0.45;
const ONE_BESIDE = 0.7;
/** Zones of more bits than this are not tried bit by bit, only by how many there are of each. */
const FULL_TRIAL = 7;
/** Bits that may be lost or doubled where the time is wrong, and what each costs. */
const MOST_SLIPPED = 3;
const SLIP_COST = 4;
/** At most so many readings of one zone are tried. */
const MOST_READINGS = 96;

/** Bits `from` to, not including, `to` of a row that may be other bits, more or fewer. */
export interface Zone {
  readonly from: number;
  readonly to: number;
  readonly start: number;
  readonly end: number;
  readonly speed: number;
  /** The tape says nothing at all here: no bits were read in a part of it. */
  readonly hole: boolean;
}

/** One way to read a zone. */
export interface Reading {
  readonly bits: readonly (0 | 1)[];
  /** How little it agrees with the sound; 0 is the reading that the sound gave. */
  readonly cost: number;
  /** It does not fit the zone's time. */
  readonly slip?: boolean;
}

/** How many bits are sure enough. */
export function clearBits(bits: readonly TapeBit[]): number {
  return bits.reduce((count, bit) => count + (bit.sure >= SURE_ENOUGH ? 1 : 0), 0);
}

/** Is there a hole before bit `index`? */
export function holeBefore(bits: readonly TapeBit[], index: number): boolean {
  if (index <= 0 || index >= bits.length) return false;
  const gap = bits[index].start - bits[index - 1].end;
  return gap > (HOLE * BIT_SECONDS[0]) / bits[index].speed;
}

/**
 * The bits again, less sure beside unclear ones: a hole that begins or ends within the pulses of a 1
 * leaves what looks like a good 0. That was weighed already for those under a hole.
 */
export function weakenNeighbours<Bit extends TapeBit>(bits: readonly Bit[]): Bit[] {
  const isUnclear = (index: number) => index in bits && bits[index].sure < SURE_ENOUGH;
  return bits.map((bit, i) => {
    const beside =
      isUnclear(i - 1) || isUnclear(i + 1) || holeBefore(bits, i) || holeBefore(bits, i + 1);
    const most = bit.bit === 0 ? ZERO_BESIDE : bit.sure * ONE_BESIDE;
    return beside && bit.hole === undefined && bit.sure > most
      ? { ...bit, sure: most, other: (1 - bit.bit) as 0 | 1 }
      : bit;
  });
}

/** The unclear zones of a row of bits, in order. */
export function zonesOf(bits: readonly TapeBit[]): Zone[] {
  const zones: Zone[] = [];
  let open: { from: number; to: number; hole: boolean } | undefined;
  const close = () => {
    if (open) zones.push(measure(bits, open.from, open.to, open.hole));
    open = undefined;
  };
  for (let i = 0; i < bits.length; i++) {
    const hole = holeBefore(bits, i);
    // A bit beside a hole has nothing on that side to hold it in step.
    const unclear = bits[i].sure < SURE_ENOUGH || hole || holeBefore(bits, i + 1);
    if (!unclear) {
      if (open && i - open.to >= BRIDGED) close();
      continue;
    }
    open ??= { from: i, to: i, hole: false };
    open.to = i + 1;
    if (hole) open.hole = true;
  }
  close();
  return zones;
}

function measure(bits: readonly TapeBit[], from: number, to: number, hole: boolean): Zone {
  const before = bits[from - 1];
  const after = bits[to];
  const start = before ? before.end : bits[from].start;
  const end = after ? after.start : bits[to - 1].end;
  const speeds = [before, after].filter((bit) => bit !== undefined).map((bit) => bit.speed);
  if (speeds.length === 0) speeds.push(bits[from].speed);
  const speed = speeds.reduce((sum, value) => sum + value, 0) / speeds.length;
  return { from, to, start, end, speed, hole };
}

/**
 * Every way to read the zone that fits its time, the sound's own first.
 * @param slips also those that do not fit, by a few bits less or more
 */
export function readingsOf(zone: Zone, bits: readonly TapeBit[], slips = false): Reading[] {
  const heard = bits.slice(zone.from, zone.to);
  const own: Reading = { bits: heard.map((bit) => bit.bit), cost: zone.hole ? 20 : 0 };
  const readings: Reading[] = [];
  for (const { zeros, ones, misfit } of countsFitting(zone)) {
    for (const row of rows(zeros, ones, own.bits)) {
      readings.push({ bits: row, cost: 1 + 2 * misfit + distance(row, heard) });
    }
  }
  if (slips) readings.push(...outOfTime(own.bits));
  readings.sort((a, b) => a.cost - b.cost);
  const same = (reading: Reading) => reading.bits.join('') === own.bits.join('');
  return [own, ...readings.filter((reading) => !same(reading))].slice(0, MOST_READINGS);
}

/** Where time was lost or added the time says nothing: some bits less, or some more, anywhere. */
function outOfTime(heard: readonly (0 | 1)[]): Reading[] {
  const readings: Reading[] = [];
  for (let at = 0; at <= heard.length; at++) {
    const [before, after] = [heard.slice(0, at), heard.slice(at)];
    for (let less = 1; less <= Math.min(MOST_SLIPPED, after.length); less++) {
      readings.push({
        bits: [...before, ...after.slice(less)],
        cost: SLIP_COST * less,
        slip: true,
      });
    }
    for (let more = 1; more <= MOST_SLIPPED; more++) {
      for (const row of everyRow(more)) {
        readings.push({ bits: [...before, ...row, ...after], cost: SLIP_COST * more, slip: true });
      }
    }
  }
  return [...new Map(readings.map((reading) => [reading.bits.join(''), reading])).values()];
}

interface Counts {
  readonly zeros: number;
  readonly ones: number;
  /** 0 to 1: by how much of the slack it misses the time. */
  readonly misfit: number;
}

function countsFitting(zone: Zone): Counts[] {
  const span = (zone.end - zone.start) * zone.speed;
  const slack = SLACK_SECONDS + SLACK_PART * span;
  const counts: Counts[] = [];
  for (let ones = 0; ones * BIT_SECONDS[1] <= span + slack; ones++) {
    const left = span - ones * BIT_SECONDS[1];
    const nearest = Math.max(0, Math.round(left / BIT_SECONDS[0]));
    const off = Math.abs(left - nearest * BIT_SECONDS[0]);
    if (off <= slack) counts.push({ zeros: nearest, ones, misfit: off / slack });
  }
  return counts;
}

/** Every order of so many zeros and ones; of many, only the one nearest to what was heard. */
function rows(zeros: number, ones: number, heard: readonly (0 | 1)[]): (0 | 1)[][] {
  if (zeros + ones > FULL_TRIAL) return [nearestRow(zeros, ones, heard)];
  if (zeros + ones === 0) return [[]];
  const result: (0 | 1)[][] = [];
  if (zeros > 0) for (const row of rows(zeros - 1, ones, heard)) result.push([0, ...row]);
  if (ones > 0) for (const row of rows(zeros, ones - 1, heard)) result.push([1, ...row]);
  return result;
}

function nearestRow(zeros: number, ones: number, heard: readonly (0 | 1)[]): (0 | 1)[] {
  const row: (0 | 1)[] = [];
  let [leftZeros, leftOnes] = [zeros, ones];
  for (let i = 0; leftZeros + leftOnes > 0; i++) {
    const wanted = heard[i] ?? 0;
    const bit = wanted === 1 ? (leftOnes > 0 ? 1 : 0) : leftZeros > 0 ? 0 : 1;
    if (bit === 1) leftOnes--;
    else leftZeros--;
    row.push(bit);
  }
  return row;
}

/** How far a row is from what was heard, by how sure that is. */
function distance(row: readonly (0 | 1)[], heard: readonly TapeBit[]): number {
  let sum = 2 * Math.abs(row.length - heard.length);
  for (let i = 0; i < Math.min(row.length, heard.length); i++) {
    if (row[i] !== heard[i].bit) sum += 0.5 + 4 * heard[i].sure;
  }
  return sum;
}
