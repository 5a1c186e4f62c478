/** From bits to programs: where one begins, what its bytes are, and which of them are in doubt. */
import { HEADER_SIZE } from '../machine/image-layout.js';
import { IMAGE_START } from '../machine/memory-map.js';
import { SURE_ENOUGH, type TapeBit } from './bit-finder.js';
import { weakenMistimed } from './bit-lengths.js';
import { areasOf, checkStructure, placesOf, pointersAgree, unitAround } from './image-structure.js';
import { type Headed, withNewHead, withNewPointers } from './lost-head.js';
import { backInStep } from './lost-step.js';
import { PackedBits } from './packed-bits.js';
import type { Channel, Doubt, DoubtReason, Fragment, RecoveredProgram } from './recovery.js';
import { bytesOfBits, HEAD_SIZE, imageOfTape, NAME_END, statedLength } from './tape-bytes.js';
import { BIT_SECONDS, holeBefore, weakenNeighbours } from './unclear-zones.js';
import { type Settled, type SettledBit, settleZones } from './zone-settling.js';

/** The longest name that is looked for. */
const LONGEST_NAME = 64;
/** Codes from here up are not on a key as characters of a name. */
const NAME_CODES = 64;
/** Bits at the beginning that noise may have added, or the tape lost. */
const STRAY_BITS = 16;
const LOST_BITS = 3;
/** With fewer clear bits than this it is not said to be a program: no image has under 142 bytes. */
const FEWEST_CLEAR_BITS = 800;
/** A piece with fewer bits, or a smaller part of them clear, is not worth a word: tones have such. */
const FEWEST_BITS = 64;
const FRAGMENT_CLEAR_BITS = 320;
const FRAGMENT_CLEAR_PART = 0.5;

/** Beginnings that are tried. */
const MOST_PLACES = 4;
/** An image that holds together to its last byte is better than any that does not. */
const WHOLE = 1e6;
/** So many clear bits right before a name may be a part of it. */
const CLEAR_BEFORE_NAME = 1;
/** Or so many that are not clear, without a gap. */
const UNCLEAR_BEFORE_NAME = 4;

/** Unclear bits of a byte at most for which another reading is given. */
const MOST_OTHER = 3;
/** How sure a bit can be at most where another row of bits is nearly as good. */
const RIVALLED = 0.25;

/** What a row of bits without long gaps holds. */
export interface Found {
  readonly programs: RecoveredProgram[];
  readonly fragments: Fragment[];
}

/** The programs in a row of bits. */
export function readPrograms(bits: readonly TapeBit[], channel: Channel): Found {
  const found: Found = { programs: [], fragments: [] };
  const addFragment = (piece: readonly TapeBit[]) => {
    if (isFragment(piece)) found.fragments.push(fragmentOf(piece));
  };
  let rest = [...bits];
  while (rest.length >= FEWEST_BITS) {
    const begun = clearBits(rest) >= FEWEST_CLEAR_BITS ? findBeginning(rest) : undefined;
    if (begun === undefined) {
      addFragment(rest);
      break;
    }
    addFragment(begun.skipped);
    const { program, used } = readProgram(begun.settled, channel)!;
    const own = begun.settled.bits.slice(0, used);
    if (clearBits(own) >= FEWEST_CLEAR_BITS) found.programs.push(program);
    else addFragment(own);
    rest = begun.settled.bits.slice(used);
  }
  return found;
}

function isClear({ sure, chosen }: SettledBit): boolean {
  return sure >= SURE_ENOUGH && !chosen;
}

function clearBits(bits: readonly TapeBit[]): number {
  return bits.reduce((count, bit) => count + (bit.sure >= SURE_ENOUGH ? 1 : 0), 0);
}

function isFragment(bits: readonly TapeBit[]): boolean {
  const clear = clearBits(bits);
  return clear >= FRAGMENT_CLEAR_BITS && clear >= FRAGMENT_CLEAR_PART * bits.length;
}

function fragmentOf(bits: readonly TapeBit[]): Fragment {
  return { start: bits[0].start, end: bits[bits.length - 1].end, bits: bits.length };
}

interface Beginning {
  readonly settled: Settled;
  readonly skipped: TapeBit[];
}

/** Where a name and then a sensible head of an image begin; the unclear zones are settled. */
function findBeginning(bits: readonly TapeBit[]): Beginning | undefined {
  let best: Beginning | undefined;
  let most = 0;
  /** Takes this beginning if it is better than the best; is it whole? */
  const consider = (settled: Settled, skipped: TapeBit[]) => {
    if (headAt(settled.bits, 0) !== 'head') return false;
    const good = goodness(settled);
    // A head that nothing speaks for, and that no line follows, is one by chance.
    if (good <= HEADER_SIZE && headWorth(settled.bits, 0) === 0) return false;
    if (best === undefined || good > most) {
      best = { settled, skipped };
      most = good;
    }
    return good >= WHOLE;
  };
  for (const place of likelyPlaces(bits)) {
    if (consider(settle(from(bits, place)), bits.slice(0, Math.max(0, place)))) return best;
    // Lines that follow from the head show that this is the beginning, whatever comes later.
    if (most > HEADER_SIZE) break;
  }
  if (best === undefined && consider(settle(bits), [])) return best;
  // Not one line that follows from its head: then that may be what the tape has lost.
  if (most <= HEADER_SIZE && isFragment(bits)) {
    for (const { bits: headed, skipped } of newHeads(weakened(bits))) {
      consider(settleAgain(settleZones(headed)), skipped);
    }
  }
  return best;
}

/** The bits with new pointers after the name, if there is one, and with a head that is all new. */
function newHeads(bits: readonly SettledBit[]): Headed[] {
  const place = bits.findIndex((bit) => bit.sure >= SURE_ENOUGH);
  const nameSize = nameLength(bits, place);
  const headed = withNewHead(bits);
  return [
    ...(nameSize === undefined ? [] : withNewPointers(from(bits, place), nameSize)),
    ...(headed ? [headed] : []),
  ];
}

/** Bytes of the image that hold together; if all of them do, WHOLE and the number of its lines. */
function goodness({ bits }: Settled): number {
  const image = imageOfTape(bytesOfBits(bits));
  const { good, lines, whole } = checkStructure(image.subarray(0, areasOf(image)?.end));
  return whole ? WHOLE + lines : good;
}

/** Places at which a name and a head can be read, the likeliest first. */
function likelyPlaces(bits: readonly TapeBit[]): number[] {
  const clear = bits.findIndex((bit) => bit.sure >= SURE_ENOUGH);
  // The first bits may be less clear than they are for the company of stray ones before them.
  const likely = [clear, clear - 1, clear - 2, clear - 3].filter((place) => place >= 0);
  const places = new Set(likely);
  for (let i = 0; i < bits.length; i++) {
    if (i === 0 || holeBefore(bits, i)) {
      for (let k = -LOST_BITS; k <= STRAY_BITS; k++) places.add(i + k);
    }
  }
  // Best if the image ends where the bits do, and all its pointers make sense; then where bits begin
  // to be clear, or where a stretch of them begins at all.
  const rank = (place: number) => {
    const begins = place === 0 || (place > 0 && holeBefore(bits, place));
    return headWorth(bits, place) + (likely.includes(place) ? 2 : begins ? 1 : 0);
  };
  return [...places]
    .filter((place) => headAt(bits, place) === 'head')
    .map((place) => ({ place, rank: rank(place) }))
    .sort((a, b) => b.rank - a.rank)
    .slice(0, MOST_PLACES)
    .map(({ place }) => place);
}

/** How much speaks for the head that begins here: 8 for its length, 4 for its other pointers. */
function headWorth(bits: readonly TapeBit[], place: number): number {
  const bytes = bytesOfBits(from(bits, place, 8 * (LONGEST_NAME + HEADER_SIZE)));
  const image = imageOfTape(bytes);
  const size = bytes.length - image.length + statedLength(image)!;
  const fits = Math.abs(bits.length - place - 8 * size) <= STRAY_BITS;
  return (fits ? 8 : 0) + (pointersAgree(image) ? 4 : 0);
}

/** Settles the unclear zones; and again, where bits were lost or doubled without a sound of it. */
function settle(bits: readonly SettledBit[]): Settled {
  return settleAgain(settleZones(weakened(bits)));
}

/** The bits less sure where their time is wrong, or where others beside them are unclear. */
function weakened(bits: readonly SettledBit[]): SettledBit[] {
  return weakenNeighbours(weakenMistimed(bits));
}

function settleAgain(settled: Settled): Settled {
  const nameSize = settled.whole ? undefined : nameLength(settled.bits, 0);
  if (nameSize === undefined) return settled;
  const inStep = backInStep(settled.bits, nameSize);
  return inStep === settled.bits ? settled : settleZones(inStep);
}

/**
 * The bits from a place on, or so many of them; before the first there may have been zeros that were
 * lost. Where others come right before a name, some of it may have been among them.
 */
function from(bits: readonly TapeBit[], place: number, count = bits.length): SettledBit[] {
  if (place < 0) {
    const { start, speed } = bits[0];
    const lost: SettledBit = { bit: 0, start, rest: start, end: start, sure: 0, other: 1, speed };
    return [...new Array<SettledBit>(-place).fill(lost), ...bits.slice(0, count)];
  }
  const row: SettledBit[] = bits.slice(place, place + count);
  if (!isCutBefore(bits, place)) return row;
  return row.map((bit, i) => (i < 8 ? { ...bit, chosen: true } : bit));
}

/** Do bits come right before this one that may be more of the same name? */
function isCutBefore(bits: readonly TapeBit[], place: number): boolean {
  const before = bits.slice(Math.max(0, place - 8 * LONGEST_NAME), place);
  if (clearBits(before) >= CLEAR_BEFORE_NAME) return true;
  let at = place;
  while (at > 0 && !holeBefore(bits, at)) at--;
  return place - at >= UNCLEAR_BEFORE_NAME;
}

function byteAt(bits: readonly TapeBit[], at: number): number {
  let byte = 0;
  for (let i = at; i < at + 8; i++) byte = 2 * byte + (bits[i]?.bit ?? 0);
  return byte;
}

/** Bytes of a name that begins at this bit (zeros stand before the first), or undefined if none can. */
function nameLength(bits: readonly TapeBit[], place: number): number | undefined {
  for (let i = 0; i < LONGEST_NAME && place + 8 * i + 8 <= bits.length; i++) {
    const byte = byteAt(bits, place + 8 * i);
    if ((byte & ~NAME_END) >= NAME_CODES) return undefined;
    if (byte & NAME_END) return i + 1;
  }
  return undefined;
}

/** Does a name begin at this bit, and perhaps with the head of an image after it? */
function headAt(bits: readonly TapeBit[], place: number): 'head' | 'name' | undefined {
  const name = nameLength(bits, place);
  if (name === undefined) return undefined;
  if (bits.length < place + 8 * (name + HEAD_SIZE)) return undefined;
  const first = place + 8 * name;
  const head = Uint8Array.from({ length: HEAD_SIZE }, (_, i) => byteAt(bits, first + 8 * i));
  return areasOf(head) ? 'head' : 'name';
}

/**
 * The program that these bits are, from its name on, and how many of them it took.
 * @returns undefined if they do not begin with a name
 */
export function readProgram(
  { bits, rivals }: Settled,
  channel: Channel,
): { program: RecoveredProgram; used: number } | undefined {
  const nameSize = nameLength(bits, 0);
  if (nameSize === undefined) return undefined;
  const heard = bytesOfBits(bits);
  const head = heard.subarray(nameSize);
  // Without sensible pointers the image is as long as what was heard.
  const size = areasOf(head) ? statedLength(head)! : head.length;
  const tape = new Uint8Array(nameSize + size);
  tape.set(heard.subarray(0, tape.length));
  const used = Math.min(bits.length, 8 * tape.length);
  const rivalled = weakenRivalled(bits.slice(0, used), tape, rivals);
  const name = tape.slice(0, nameSize);
  name[nameSize - 1] &= ~NAME_END;
  const image = tape.slice(nameSize);
  const structure = checkStructure(image);
  // Good bits that go on after the last byte show that some before it are too many.
  const whole = structure.whole && !strayEnd(bits, used);
  const goesOn = bits[used] !== undefined && !holeBefore(bits, used);
  const inStep = weakenRecounted(rivalled, image, nameSize, whole);
  const clear = used === 8 * tape.length && !goesOn && inStep.every(isClear);
  const marked = whole || clear ? inStep : weakenAdrift(inStep, image, nameSize, structure.good);
  const own = marked.map((bit) => (bit.rebuilt ? { ...bit, sure: 0 } : bit));
  const program: RecoveredProgram = {
    name,
    image,
    start: own[0].start,
    end: own[used - 1].end,
    speed: speedOf(own),
    certainty: used < 8 * tape.length ? 0 : own.reduce((least, b) => Math.min(least, b.sure), 1),
    doubts: doubtsOf(own, tape, nameSize, image, rivals),
    whole,
    channel,
    bits: new PackedBits(own),
  };
  return { program, used };
}

/** Mean speed against the machine's own, from the time that the bits took. */
function speedOf(bits: readonly TapeBit[]): number {
  const heard = bits.filter((bit) => bit.end > bit.start);
  const taken = heard.reduce((sum, bit) => sum + bit.end - bit.start, 0);
  return heard.reduce((sum, bit) => sum + BIT_SECONDS[bit.bit], 0) / Math.max(taken, 1e-9);
}

/** No bit is sure in a byte that another row, nearly as good, has otherwise. */
function weakenRivalled(
  bits: readonly SettledBit[],
  tape: Uint8Array,
  rivals: readonly Uint8Array[],
): SettledBit[] {
  return bits.map((bit, i) => {
    const at = i >> 3;
    const rivalled = rivals.some((row) => at < row.length && row[at] !== tape[at]);
    return rivalled ? { ...bit, sure: Math.min(bit.sure, RIVALLED) } : bit;
  });
}

/**
 * Bits lost in one place and doubled in another can make up for each other, and nothing in a piece of
 * the image shows it. So no bit is sure in a piece where another number of bits was put than was
 * heard. On a tape that has such a place, or if the image does not hold together, no count of unclear
 * bits is believed.
 */
function weakenRecounted(
  bits: readonly SettledBit[],
  image: Uint8Array,
  nameSize: number,
  whole: boolean,
): SettledBit[] {
  const recounted = ({ zone, slip }: SettledBit) => slip || zone === 'recounted';
  const believed = whole && !bits.some(recounted);
  const result = [...bits];
  bits.forEach((bit, index) => {
    if (!recounted(bit) && (believed || bit.zone === undefined)) return;
    const { from, to } = unitOfBit(image, nameSize, index);
    for (let i = from; i < Math.min(to, bits.length); i++) {
      result[i] = { ...result[i], sure: Math.min(bits[i].sure, RIVALLED), recounted: true };
    }
  });
  return result;
}

/**
 * Where the image contradicts itself, nothing is sure from the beginning of that piece of it on; nor
 * from where bits were put in or left out to mend it, as they did not.
 */
function weakenAdrift(
  bits: readonly SettledBit[],
  image: Uint8Array,
  nameSize: number,
  good: number,
): SettledBit[] {
  const slip = bits.findIndex((bit) => bit.slip);
  // Pointers that contradict each other say that the head is not to be trusted either.
  const broken = pointersAgree(image) ? 8 * (nameSize + good) : 0;
  const { from } = unitOfBit(image, nameSize, slip < 0 ? broken : Math.min(slip, broken));
  return bits.map((bit, i) =>
    i < from ? bit : { ...bit, sure: Math.min(bit.sure, RIVALLED), adrift: true },
  );
}

/** The bits of the piece of the image that a bit stands in; the name counts to the first piece. */
function unitOfBit(
  image: Uint8Array,
  nameSize: number,
  index: number,
): { from: number; to: number } {
  const offset = Math.max(0, (index >> 3) - nameSize);
  const { from, to } = unitAround(image, offset);
  return { from: from === 0 ? 0 : 8 * (nameSize + from), to: 8 * (nameSize + to) };
}

/** Do clear bits follow the last one without a pause, too few for a program of their own? */
function strayEnd(bits: readonly TapeBit[], used: number): boolean {
  const next = bits[used];
  if (next === undefined || bits.length - used >= FEWEST_BITS) return false;
  return !holeBefore(bits, used) && next.sure >= SURE_ENOUGH;
}

function doubtsOf(
  bits: readonly SettledBit[],
  tape: Uint8Array,
  nameSize: number,
  image: Uint8Array,
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
  return withPlaces(doubts, image);
}

function reasonOf(own: readonly SettledBit[]): DoubtReason {
  if (own.length < 8) return 'missing';
  if (own.some((bit) => bit.disagreed)) return 'takes';
  if (own.some((bit) => bit.rebuilt)) return 'rebuilt';
  if (own.some((bit) => bit.adrift)) return 'adrift';
  if (own.some((bit) => bit.recounted)) return 'recounted';
  return own.some((bit) => bit.chosen) ? 'structure' : 'unclear';
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
