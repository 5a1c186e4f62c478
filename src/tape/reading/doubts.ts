/** Which bytes of a program are in doubt, and why. */

import { IMAGE_START } from '../../machine/memory-map.js';
import { NAME_END } from '../../machine/tape-signal.js';
import { SURE_ENOUGH } from '../hearing/bit-finder.js';
import { placesOf } from '../mending/image-structure.js';
import type { SettledBit } from '../mending/zone-settling.js';
import type { Doubt, DoubtReason } from './recovery.js';

/** Unclear bits of a byte at most for which another reading is given. */
const MOST_OTHER = 3;

/** Is the bit as the sound gave it, and sure? */
export function isClear({ sure, chosen }: SettledBit): boolean {
  return sure >= SURE_ENOUGH && !chosen;
}

/**
 * The bytes in doubt, in order.
 * @param bits of name and image
 * @param tape the bytes of both, the first `nameSize` of them the name's
 * @param rivals rows of bytes that are nearly as good
 */
export function doubtsOf(
  bits: readonly SettledBit[],
  tape: Uint8Array,
  nameSize: number,
  rivals: readonly Uint8Array[],
): Doubt[] {
  const doubts: Doubt[] = [];
  const end = bits[bits.length - 1].end;
  for (let i = 0; i < tape.length; i++) {
    const own = bits.slice(8 * i, 8 * i + 8);
    const unclear = own.filter((bit) => !isClear(bit));
    const rival = rivals.find((row) => i < row.length && row[i] !== tape[i]);
    if (own.length === 8 && unclear.length === 0) continue;
    const inName = i < nameSize;
    const offset = inName ? i : i - nameSize;
    doubts.push({
      part: inName ? 'name' : 'image',
      offset,
      address: inName ? undefined : IMAGE_START + offset,
      byte: inName ? tape[i] & ~NAME_END : tape[i],
      other: own.length === 8 ? (rival?.[i] ?? otherReading(own, tape[i])) : undefined,
      seconds: unclear[0]?.start ?? end,
      reason: reasonOf(own),
    });
  }
  return withPlaces(doubts, tape.subarray(nameSize));
}

function reasonOf(own: readonly SettledBit[]): DoubtReason {
  if (own.length < 8) return 'missing';
  if (own.some((bit) => bit.disagreed)) return 'takes';
  const marks = ['rebuilt', 'completed', 'unfinished', 'adrift', 'recounted'] as const;
  const marked = marks.find((mark) => own.some((bit) => bit[mark]));
  return marked ?? (own.some((bit) => bit.chosen) ? 'structure' : 'unclear');
}

/** The byte with its unclear bits read as the best other path has them. */
function otherReading(own: readonly SettledBit[], byte: number): number | undefined {
  let other = byte;
  // Of many unclear bits the other readings are too many for one of them to be worth a word.
  if (own.filter((bit) => !isClear(bit)).length > MOST_OTHER) return undefined;
  own.forEach((bit, i) => {
    if (!isClear(bit) && bit.other !== undefined && bit.other !== bit.bit) other ^= 128 >> i;
  });
  return other === byte ? undefined : other;
}

function withPlaces(doubts: Doubt[], image: Uint8Array): Doubt[] {
  const inImage = doubts.filter((doubt) => doubt.part === 'image');
  const places = placesOf(
    image,
    inImage.map((doubt) => doubt.offset),
  );
  const placeOf = new Map(inImage.map((doubt, index) => [doubt, places[index]]));
  return doubts.map((doubt) => ({ ...doubt, place: placeOf.get(doubt) }));
}
