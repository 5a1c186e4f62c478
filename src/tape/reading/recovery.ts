/** What is read from a recording. */

import type { BytePlace } from '../mending/image-structure.js';
import type { SettledBit } from '../mending/zone-settling.js';

/** Why a byte is in doubt. */
export type DoubtReason =
  /** The sound there is too weak, too noisy or too short to tell. */
  | 'unclear'
  /** The sound there was unclear, and the image's structure chose the reading. */
  | 'structure'
  /** Bits were lost or doubled near here, and where is not known exactly. */
  | 'recounted'
  /** The image contradicts itself before this: it may be out of step from there on. */
  | 'adrift'
  /** The recording ends there, and what came before does not hold together: the byte is 0. */
  | 'missing'
  /** The recording has lost the beginning: the byte is that of a fresh machine. */
  | 'rebuilt'
  /** The recording ends within this piece of the image, so nothing after it confirms it. */
  | 'unfinished'
  /** The recording ends before it: the byte is that of a plain build. */
  | 'completed'
  /** The recordings disagree. */
  | 'takes';

/** A byte that may be wrong. */
export interface Doubt {
  /** In the name, or in the image. */
  readonly part: 'name' | 'image';
  /** Offset in the name or the image. */
  readonly offset: number;
  /** Address in the machine's memory; undefined in the name. */
  readonly address?: number;
  /** Where in the image it stands. */
  readonly place?: BytePlace;
  /** The byte as it was read, and the next best reading if there is one. */
  readonly byte: number;
  readonly other?: number;
  /** Seconds from the start of the recording. */
  readonly seconds: number;
  readonly reason: DoubtReason;
}

/** Bits in order of time. */
export interface BitRow extends Iterable<SettledBit> {
  readonly length: number;
  at(index: number): SettledBit;
}

/** A program found in a recording. */
export interface RecoveredProgram {
  /** Codes of the name, without bit 7 on the last. */
  readonly name: Uint8Array;
  readonly image: Uint8Array;
  /** Seconds from the start of the recording. */
  readonly start: number;
  readonly end: number;
  /** Mean speed of the tape against the machine's own. */
  readonly speed: number;
  /** 0 to 1: the least sure of its bits. */
  readonly certainty: number;
  /** Every byte that may be wrong, in order. */
  readonly doubts: readonly Doubt[];
  /** Does the image hold together to the last byte (pointers, lines, display, variables)? */
  readonly whole: boolean;
  /** Bytes that its own pointers promise and that the recording, which ends before, does not give whole. */
  readonly lostBytes: number;
  /** Which sound of the recording it was read from. */
  readonly channel: Channel;
  /** Eight for each byte of name and image. */
  readonly bits: BitRow;
}

/** A stretch of bits that is no program, or only a part of one without its beginning. */
export interface Fragment {
  readonly start: number;
  readonly end: number;
  readonly bits: number;
}

/** One sound of a recording: a channel, their mean, or their difference. */
export type Channel = 'mono' | 'mix' | 'left' | 'right' | 'difference';

/** How loud the recording is over time. */
export interface Loudness {
  /** Seconds of one value. */
  readonly seconds: number;
  /** Highest sample, 0 to 1, of each. */
  readonly peaks: readonly number[];
}

export interface Recovery {
  readonly programs: readonly RecoveredProgram[];
  readonly fragments: readonly Fragment[];
  /** Length of the recording. */
  readonly seconds: number;
  readonly rate: number;
  readonly channels: number;
  readonly loudness: Loudness;
  /** What was odd and did no harm. */
  readonly notes: readonly string[];
}

/** Less than 0 if the first reading of a program is the better one. */
export function betterFirst(a: RecoveredProgram, b: RecoveredProgram): number {
  const isWhole = ({ whole, lostBytes }: RecoveredProgram) => Number(whole && lostBytes === 0);
  const amiss = ({ doubts, lostBytes }: RecoveredProgram) => doubts.length + lostBytes;
  return isWhole(b) - isWhole(a) || amiss(a) - amiss(b) || b.certainty - a.certainty;
}
