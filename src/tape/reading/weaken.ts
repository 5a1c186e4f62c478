/** Bits that look clear one by one and are not sure for all that: what is around them says so. */
import { NEWLINE } from '../../machine/characters.js';
import { offsetOf } from '../../machine/image-layout.js';
import {
  areaOffsets,
  isHeadInStep,
  isPrinterAstray,
  oddLines,
  PRINTER_END,
  unitAround,
} from '../mending/image-structure.js';
import type { SettledBit } from '../mending/zone-settling.js';

/** How sure such a bit can be at most. */
const RIVALLED = 0.25;
/** So many bits may be mistimed by one cut or stutter. */
const ONE_PLACE = 16;
/** An image that is so many times as long as what was heard of it, and contradicts itself, is not. */
const FAR_LONGER = 2;

/** Bits `from` to, not including, `to`. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/** No bit is sure in a byte that another row, nearly as good, has otherwise. */
export function weakenRivalled(
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
 * bits is believed; nor if the printer's buffer does not end where it does on a fresh machine.
 */
export function weakenRecounted(
  bits: readonly SettledBit[],
  image: Uint8Array,
  nameSize: number,
  whole: boolean,
): SettledBit[] {
  const recounted = ({ zone, slip }: SettledBit) => slip || zone === 'recounted';
  const believed = whole && image[PRINTER_END] === NEWLINE && !bits.some(recounted);
  const result = [...bits];
  const odd = oddLines(image).map(({ from }) => 8 * (nameSize + from));
  let done = { from: 0, to: 0 };
  bits.forEach((bit, index) => {
    if (!recounted(bit) && (believed || bit.zone === undefined)) return;
    const unit = unitOfBit(image, nameSize, index);
    // Many such bits may stand in one piece, and a broken image is all one piece: each only once.
    if (unit.from === done.from && unit.to === done.to) return;
    done = unit;
    // A line by chance may have swallowed others: its head then says nothing of the piece before it.
    const line = odd.find((at) => at >= unit.from && at < unit.to);
    const from = line === undefined ? unit.from : unitOfBit(image, nameSize, line).from;
    recount(result, from, unit.to);
  });
  for (const { from, to } of twiceMistimed(bits, image, nameSize)) recount(result, from, to);
  return result;
}

/** The pieces with a wrong time in more than one place: what was lost in one may be doubled in another. */
function twiceMistimed(bits: readonly SettledBit[], image: Uint8Array, nameSize: number): Span[] {
  const pieces: Span[] = [];
  let last = Number.NEGATIVE_INFINITY;
  let piece: Span = { from: 0, to: 0 };
  bits.forEach((bit, index) => {
    if (!bit.mistimed) return;
    const isApart = index - last > ONE_PLACE;
    const isSame = last >= piece.from && index < piece.to;
    last = index;
    if (!isSame) piece = unitOfBit(image, nameSize, index);
    else if (isApart && pieces.at(-1) !== piece) pieces.push(piece);
  });
  return pieces;
}

/**
 * The same for a head in which all that is in the printer's buffer, its NEWLINE, is out of place; or not
 * there at all, where the pointers are new: what was heard after them may be lines.
 */
export function weakenAstray(
  bits: readonly SettledBit[],
  image: Uint8Array,
  nameSize: number,
): readonly SettledBit[] {
  const isLost = isRebuilt(bits, nameSize) && image[PRINTER_END] !== NEWLINE;
  if (!isLost && !isPrinterAstray(image)) return bits;
  const result = [...bits];
  recount(result, 0, unitOfBit(image, nameSize, 0).to);
  return result;
}

/** Says of the bits `from` to `to` that they may not be as many as there were. */
function recount(bits: SettledBit[], from: number, to: number): void {
  for (let i = from; i < Math.min(to, bits.length); i++) {
    bits[i] = { ...bits[i], sure: Math.min(bits[i].sure, RIVALLED), recounted: true };
  }
}

/**
 * Where the image contradicts itself, nothing is sure from the beginning of that piece of it on; nor
 * from a line with odd codes before that, nor from where bits were put in or left out to mend it, as
 * they did not.
 */
export function weakenAdrift(
  bits: readonly SettledBit[],
  image: Uint8Array,
  nameSize: number,
  good: number,
): SettledBit[] {
  const slip = bits.findIndex((bit) => bit.slip);
  const [odd] = oddLines(image);
  // Pointers that contradict each other say that the head is not to be trusted either, as does a
  // printer's buffer that ends elsewhere, and an image that is far longer than what was heard.
  const heard = bits.length / 8 - nameSize;
  const isHeadGood = isHeadInStep(image) && image.length < FAR_LONGER * heard;
  // A last line that lost a byte has taken the first of the display for its end.
  const first = good === areaOffsets(image)?.display ? good - 1 : good;
  const broken = isHeadGood ? 8 * (nameSize + Math.min(first, odd?.from ?? first)) : 0;
  const { from } = unitOfBit(image, nameSize, slip < 0 ? broken : Math.min(slip, broken));
  return bits.map((bit, i) =>
    i < from ? bit : { ...bit, sure: Math.min(bit.sure, RIVALLED), adrift: true },
  );
}

/**
 * Where the head is new nothing tells where the first line begins, and by chance one may swallow other
 * lines; where the end is new the last one may have swallowed a part of the display. So nothing is sure
 * in one with codes that no listing shows. Nor, behind a new head, from a display on that has anything
 * but NEWLINE: its end was counted.
 */
export function weakenOdd(
  bits: readonly SettledBit[],
  image: Uint8Array,
  nameSize: number,
): readonly SettledBit[] {
  const isNew = isRebuilt(bits, nameSize);
  if (!isNew && !bits.some(({ completed }) => completed)) return bits;
  const result = [...bits];
  for (const { from, to } of oddLines(image)) {
    recount(result, 8 * (nameSize + from), 8 * (nameSize + to));
  }
  const areas = areaOffsets(image);
  if (!isNew || areas === undefined) return result;
  const { display, variables } = areas;
  if (image.subarray(display, variables).some((code) => code !== NEWLINE)) {
    recount(result, 8 * (nameSize + display), bits.length);
  }
  return result;
}

/** Are the pointers of the head not those that were heard? */
function isRebuilt(bits: readonly SettledBit[], nameSize: number): boolean {
  return bits[8 * (nameSize + offsetOf('D_FILE'))]?.rebuilt === true;
}

/** The bits of the piece of the image that a bit stands in; the name counts to the first piece. */
function unitOfBit(image: Uint8Array, nameSize: number, index: number): Span {
  const offset = Math.max(0, (index >> 3) - nameSize);
  const { from, to } = unitAround(image, offset);
  return { from: from === 0 ? 0 : 8 * (nameSize + from), to: 8 * (nameSize + to) };
}
