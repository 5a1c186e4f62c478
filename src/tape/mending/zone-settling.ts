/**
 * Chooses among the readings of unclear zones by what the image must satisfy. It goes from zone to
 * zone, keeping the best few choices so far: each is judged by how far the image holds together.
 */

import type { TapeBit } from '../hearing/bit-finder.js';
import type { Budget } from './budget.js';
import { bytesAtShifts, bytesOfBits, imageOfTape } from './bytes-of-bits.js';
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
  /** It took another time than such a bit does: bits may be lost or doubled here. */
  readonly mistimed?: boolean;
  /** Another number of bits was put in this piece of the image than was heard. */
  readonly recounted?: boolean;
  /** The image contradicts itself before this, so all from there on may be out of step. */
  readonly adrift?: boolean;
  /** It was not on the tape, and is what a fresh machine would have (lost-head.ts). */
  readonly rebuilt?: boolean;
  /** The recording ends within this piece of the image, so nothing after it confirms it (lost-end.ts). */
  readonly unfinished?: boolean;
  /** It was not on the tape, which ends before it, and is what a plain build would have. */
  readonly completed?: boolean;
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
/** Of what is left of the budget, one going through the zones takes this part at most. */
const PART_OF_BUDGET = 0.25;
/** Bytes for which one trial counts, beside those that follow the zone. */
const TRIAL_COST = 100;
/** Where the budget is short, choices go first and only then readings. */
const FEWEST_READINGS = 8;

/** A row of bits as the bytes that begin at each of eight bits: stretches of it are copied by bytes. */
class BitSource {
  private readonly shifted: readonly Uint8Array[];

  constructor(readonly bits: readonly SettledBit[]) {
    this.shifted = bytesAtShifts(bits);
  }

  /** Eight bits each from bit `from` on. */
  bytes(from: number, count: number): Uint8Array {
    return this.shifted[from & 7].subarray(from >> 3, (from >> 3) + count);
  }
}

/** A row of bytes that grows by bits, and can be cut again. */
class BitRow {
  constructor(
    readonly bytes: Uint8Array,
    public count = 0,
  ) {}

  copy(): BitRow {
    const bytes = new Uint8Array(this.bytes.length);
    bytes.set(this.bytes.subarray(0, (this.count + 7) >> 3));
    return new BitRow(bytes, this.count);
  }

  push(bit: 0 | 1): void {
    const at = this.count >> 3;
    const place = this.count & 7;
    if (at < this.bytes.length) {
      if (place === 0) this.bytes[at] = bit << 7;
      else this.bytes[at] |= bit << (7 - place);
    }
    this.count++;
  }

  /** Adds bits `from` to, not including, `to`. */
  append(source: BitSource, from: number, to: number): void {
    let at = from;
    while (at < to && (this.count & 7) > 0) this.push(source.bits[at++].bit);
    const whole = Math.min((to - at) >> 3, Math.max(0, this.bytes.length - (this.count >> 3)));
    this.bytes.set(source.bytes(at, whole), this.count >> 3);
    this.count += 8 * whole;
    at += 8 * whole;
    while (at < to) this.push(source.bits[at++].bit);
  }

  /** Takes the last bits away, so that `count` are left. */
  cut(count: number): void {
    this.count = count;
    const at = count >> 3;
    if (at < this.bytes.length) this.bytes[at] &= 0xff00 >> (count & 7);
  }

  /** The image as far as whole bytes of it are there. */
  image(): Uint8Array {
    return imageOfTape(this.bytes.subarray(0, Math.min(this.count >> 3, this.bytes.length)));
  }
}

/** How good a choice is, as far as can be seen. */
interface Judged {
  readonly cost: number;
  /** How many bits each zone was given, as a key. */
  readonly counts: string;
  /** More is better. */
  readonly score: number;
  /** The image holds together to its last byte. */
  readonly whole: boolean;
  /** The lines of the program so far. */
  readonly walk?: LineWalk;
}

interface Choice extends Judged {
  readonly row: BitRow;
  readonly readings: readonly Reading[];
}

/** A choice with one more reading, whose row is not made yet. */
interface Trial extends Judged {
  readonly before: Choice;
  readonly reading: Reading;
}

/**
 * The bits with every unclear zone read in the way that suits the image best, as far as the budget
 * goes: zones for which nothing is left of it stay as the sound gave them.
 */
export function settleZones(bits: readonly SettledBit[], budget: Budget): Settled {
  const zones = zonesOf(bits);
  if (zones.length > MOST_ZONES || (zones.length > 0 && budget.isSpent())) {
    budget.overdrawn = true;
    return unsettled(bits);
  }
  if (zones.length === 0) return unsettled(bits);
  const source = new BitSource(bits);
  const byTime = settleWith(source, zones, false, budget);
  if (byTime.whole || budget.isSpent()) return byTime;
  // Time itself may be wrong: where a tape was cut and joined, bits went without leaving a gap.
  const slipped = settleWith(source, zones, true, budget);
  return slipped.whole ? slipped : byTime;
}

function unsettled(bits: readonly SettledBit[]): Settled {
  const { whole } = checkStructure(imageOfTape(bytesOfBits(bits)));
  return { bits: [...bits], rivals: [], whole };
}

function settleWith(
  source: BitSource,
  zones: readonly Zone[],
  slips: boolean,
  budget: Budget,
): Settled {
  const { bits } = source;
  const row = new BitRow(new Uint8Array(Math.ceil(bits.length / 8) + 64));
  let choices: Choice[] = [{ row, readings: [], cost: 0, counts: '', score: 0, whole: false }];
  let left = budget.part(PART_OF_BUDGET);
  zones.forEach((zone, index) => {
    const previous = zones[index - 1]?.to ?? 0;
    const next = zones[index + 1]?.from ?? bits.length;
    const near = Math.min(zone.to + LOOK_AHEAD, next);
    let readings = readingsOf(zone, bits, slips);
    // What one trial costs: the bits that are put in a row, and the lines that are gone through.
    const each = TRIAL_COST + ((near - zone.to) >> 2);
    const trials = left / (zones.length - index) / each;
    if (trials < choices.length * readings.length) {
      budget.overdrawn = true;
      choices = choices.slice(0, Math.max(1, Math.floor(trials / FEWEST_READINGS)));
      readings = readings.slice(0, Math.max(1, Math.floor(trials / choices.length)));
    }
    for (const choice of choices) choice.row.append(source, previous, zone.from);
    // What follows up to the next zone tells whether the bits fell into step: the first lines of it
    // for all choices, and all of it for the best.
    const tried = choices.flatMap((choice) =>
      readings.map((reading) => tryReading(choice, reading, source, zone.to, near)),
    );
    choices = best(tried).map(placed);
    let spent = tried.length * each + choices.length * (choices[0].row.count >> 3);
    if (near < next) {
      choices = best(choices.map((choice) => judgeAgain(choice, source, zone.to, next)));
      spent += (choices.length * (next - near)) >> 2;
    }
    left -= spent;
    budget.spend(spent);
  });
  const least = choices[0].score - RIVAL;
  const rivals = choices.slice(1).filter((choice) => choice.score >= least);
  const last = zones[zones.length - 1].to;
  for (const { row: rival } of rivals) rival.append(source, last, bits.length);
  return {
    bits: apply(bits, zones, choices[0].readings),
    rivals: rivals.map((choice) => choice.row.bytes),
    whole: choices[0].whole,
  };
}

/** Judges one more reading of a choice, with the sure bits `from` to `to` after it. */
function tryReading(
  before: Choice,
  reading: Reading,
  source: BitSource,
  from: number,
  to: number,
): Trial {
  const { row } = before;
  const { count } = row;
  const cost = before.cost + reading.cost;
  for (const bit of reading.bits) row.push(bit);
  const judged = judge(row, before.walk, cost, source, from, to);
  row.cut(count);
  const counts = `${before.counts} ${reading.bits.length}`;
  return { before, reading, cost, counts, ...judged };
}

function judgeAgain(choice: Choice, source: BitSource, from: number, to: number): Choice {
  const { row, walk, cost } = choice;
  const { count } = row;
  const judged = judge(row, walk, cost, source, from, to);
  row.cut(count);
  return { ...choice, ...judged };
}

function judge(
  row: BitRow,
  known: LineWalk | undefined,
  cost: number,
  source: BitSource,
  from: number,
  to: number,
): Pick<Judged, 'score' | 'whole' | 'walk'> {
  row.append(source, from, to);
  const structure = checkStructure(row.image(), known);
  return { score: worthOf(structure) - cost, whole: structure.whole, walk: structure.walk };
}

/** The choice that was tried, with a row of its own. */
function placed({ before, reading, ...judged }: Trial): Choice {
  const row = before.row.copy();
  for (const bit of reading.bits) row.push(bit);
  return { ...judged, row, readings: [...before.readings, reading] };
}

/** The best few. */
function best<T extends Judged>(judged: readonly T[]): T[] {
  const alike = new Map<string, number>();
  const kept = [...judged]
    .sort((a, b) => b.score - a.score)
    .filter(({ counts }) => {
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
    result.push(...zoneBits(bits, zone, readings[index]));
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
    const own = { bit, start, rest: start + step / 2, end: start + step, speed: zone.speed };
    return { ...own, sure: 0, other: undefined, chosen: true, slip };
  });
}
