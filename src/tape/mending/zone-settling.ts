/**
 * Chooses among the readings of unclear zones by what the image must satisfy. It goes from zone to
 * zone, keeping the best few choices so far: each is judged by how far the image holds together.
 */

import type { TapeBit } from '../hearing/bit-finder.js';
import { bytesOfBits, imageOfTape } from './bytes-of-bits.js';
import { checkStructure, type LineWalk, worthOf } from './image-structure.js';
import { type Reading, readingsOf, type Zone, zonesOf } from './unclear-zones.js';

/** As many bits as were heard, or as fit the time of a hole; another number than was heard. */
export type ZoneEnd = 'kept' | 'recounted';

/** A bit of the settled row. */
export interface SettledBit extends TapeBit {
  /** The structure of the image chose this bit; the sound gave another, or none. */
  readonly chosen?: boolean;
  /** An unclear zone ends with this bit, and that is what became of the count of its bits. */
  readonly zone?: ZoneEnd;
  /** Bits were put in or left out here to bring the image back into step (lost-step.ts). */
  readonly slip?: boolean;
  /** Another number of bits was put in this piece of the image than was heard. */
  readonly recounted?: boolean;
  /** The image contradicts itself before this, so all from there on may be out of step. */
  readonly adrift?: boolean;
  /** It was not on the tape, and is what a fresh machine would have (lost-head.ts). */
  readonly rebuilt?: boolean;
  /** Recordings of the same tape are sure of different bits. */
  readonly disagreed?: boolean;
}

/** Bits with every zone settled. */
export interface Settled {
  readonly bits: SettledBit[];
  /** Other rows that are nearly as good: wherever they differ, the byte is in doubt. */
  readonly rivals: readonly Uint8Array[];
  /** The image holds together to its last byte. */
  readonly whole: boolean;
}

/** Choices kept from zone to zone, and of those that have taken the same number of bits. */
const KEPT = 64;
const KEPT_ALIKE = 8;
/** A choice whose score is this near the best is as good as it, for all that can be known. */
const RIVAL = 30;
/** Bits after a zone by which all choices are judged: some lines. */
const LOOK_AHEAD = 2000;
/** With more zones than this there is nothing to hold on to. */
const MOST_ZONES = 400;

/** A row of bytes that grows by bits. */
class BitRow {
  constructor(
    readonly bytes: Uint8Array,
    public count = 0,
  ) {}

  copy(): BitRow {
    return new BitRow(this.bytes.slice(), this.count);
  }

  push(bit: 0 | 1): void {
    const at = this.count >> 3;
    if (at < this.bytes.length && bit) this.bytes[at] |= 128 >> (this.count & 7);
    this.count++;
  }

  /** The image as far as whole bytes of it are there. */
  image(): Uint8Array {
    return imageOfTape(this.bytes.subarray(0, Math.min(this.count >> 3, this.bytes.length)));
  }
}

interface Choice {
  readonly row: BitRow;
  readonly readings: readonly Reading[];
  readonly cost: number;
  /** How many bits each zone was given, as a key. */
  readonly counts: string;
  /** How good it is: more is better. */
  readonly score: number;
  /** The image holds together to its last byte. */
  readonly whole: boolean;
  /** The lines of the program so far. */
  readonly walk?: LineWalk;
}

/** The bits with every unclear zone read in the way that suits the image best. */
export function settleZones(bits: readonly SettledBit[]): Settled {
  const zones = zonesOf(bits);
  if (zones.length === 0 || zones.length > MOST_ZONES) {
    const { whole } = checkStructure(imageOfTape(bytesOfBits(bits)));
    return { bits: [...bits], rivals: [], whole };
  }
  const byTime = settleWith(bits, zones, false);
  if (byTime.whole) return byTime;
  // Time itself may be wrong: where a tape was cut and joined, bits went without leaving a gap.
  const slipped = settleWith(bits, zones, true);
  return slipped.whole ? slipped : byTime;
}

function settleWith(bits: readonly SettledBit[], zones: readonly Zone[], slips: boolean): Settled {
  const row = new BitRow(new Uint8Array(Math.ceil(bits.length / 8) + 64));
  let choices: Choice[] = [{ row, readings: [], cost: 0, counts: '', score: 0, whole: false }];
  zones.forEach((zone, index) => {
    const readings = readingsOf(zone, bits, slips);
    const before = bits.slice(zones[index - 1]?.to ?? 0, zone.from);
    choices = choices.flatMap((choice) => {
      for (const bit of before) choice.row.push(bit.bit);
      return readings.map((reading) => extend(choice, reading));
    });
    // What follows up to the next zone tells whether the bits fell into step: the first lines of it
    // for all choices, and all of it for the best.
    const next = zones[index + 1]?.from ?? bits.length;
    const near = Math.min(zone.to + LOOK_AHEAD, next);
    choices = best(choices, bits, zone.to, near);
    if (near < next) choices = best(choices, bits, zone.to, next);
  });
  const least = choices[0].score - RIVAL;
  const rest = bits.slice(zones[zones.length - 1].to);
  const rivals = choices.slice(1).filter((choice) => choice.score >= least);
  for (const { row: rival } of rivals) for (const bit of rest) rival.push(bit.bit);
  return {
    bits: apply(bits, zones, choices[0].readings),
    rivals: rivals.map((choice) => choice.row.bytes),
    whole: choices[0].whole,
  };
}

function extend(choice: Choice, reading: Reading): Choice {
  const row = choice.row.copy();
  for (const bit of reading.bits) row.push(bit);
  return {
    row,
    readings: [...choice.readings, reading],
    cost: choice.cost + reading.cost,
    counts: `${choice.counts} ${reading.bits.length}`,
    score: 0,
    whole: false,
    walk: choice.walk,
  };
}

/** The best few choices, judged with the sure bits `from` to `to` after them. */
function best(
  choices: readonly Choice[],
  bits: readonly SettledBit[],
  from: number,
  to: number,
): Choice[] {
  const judged = choices.map((choice) => {
    const row = choice.row.copy();
    for (let i = from; i < to; i++) row.push(bits[i].bit);
    const structure = checkStructure(row.image(), choice.walk);
    const score = worthOf(structure) - choice.cost;
    return { ...choice, score, whole: structure.whole, walk: structure.walk };
  });
  judged.sort((a, b) => b.score - a.score);
  const alike = new Map<string, number>();
  const kept = judged.filter(({ counts }) => {
    const same = (alike.get(counts) ?? 0) + 1;
    alike.set(counts, same);
    return same <= KEPT_ALIKE;
  });
  return kept.slice(0, KEPT);
}

/** The bits with these readings of the zones in place. */
function apply(
  bits: readonly SettledBit[],
  zones: readonly Zone[],
  readings: readonly Reading[],
): SettledBit[] {
  const result: SettledBit[] = [];
  let at = 0;
  zones.forEach((zone, index) => {
    result.push(...bits.slice(at, zone.from));
    const placed = zoneBits(bits, zone, readings[index]);
    result.push(...placed);
    const last = result[result.length - 1];
    if (last) result[result.length - 1] = { ...last, zone: zoneEnd(zone, readings[index]) };
    at = zone.to;
  });
  result.push(...bits.slice(at));
  return result;
}

function zoneEnd(zone: Zone, reading: Reading): ZoneEnd {
  if (reading.slip) return 'recounted';
  return zone.hole || reading.bits.length === zone.to - zone.from ? 'kept' : 'recounted';
}

function zoneBits(bits: readonly SettledBit[], zone: Zone, { bits: row }: Reading): SettledBit[] {
  const heard = bits.slice(zone.from, zone.to);
  const sameLength = row.length === heard.length && !zone.hole;
  const slip = heard.some((bit) => bit.slip);
  const step = (zone.end - zone.start) / Math.max(1, row.length);
  return row.map((bit, i) => {
    if (sameLength) {
      const own = heard[i];
      return bit === own.bit ? own : { ...own, bit, other: own.bit, sure: 0, chosen: true };
    }
    const start = zone.start + i * step;
    return {
      bit,
      start,
      rest: start + step / 2,
      end: start + step,
      sure: 0,
      other: undefined,
      speed: zone.speed,
      chosen: true,
      slip,
    };
  });
}
