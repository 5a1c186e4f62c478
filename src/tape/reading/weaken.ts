/** Bits that look clear one by one and are not sure for all that: what is around them says so. */
import { NEWLINE } from '../../machine/characters.js';
import { offsetOf } from '../../machine/image-layout.js';
import {
  isPrinterAstray,
  oddLines,
  PRINTER_END,
  pointersAgree,
  unitAround,
} from '../mending/image-structure.js';
import type { SettledBit } from '../mending/zone-settling.js';

/** How sure such a bit can be at most. */
const RIVALLED = 0.25;

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
  return result;
}

/** The same for a head in which all that is in the printer's buffer, its NEWLINE, is out of place. */
export function weakenAstray(
  bits: readonly SettledBit[],
  image: Uint8Array,
  nameSize: number,
): readonly SettledBit[] {
  if (!isPrinterAstray(image)) return bits;
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
  // printer's buffer that ends elsewhere.
  const isHeadGood = pointersAgree(image) && image[PRINTER_END] === NEWLINE;
  const broken = isHeadGood ? 8 * (nameSize + Math.min(good, odd?.from ?? good)) : 0;
  const { from } = unitOfBit(image, nameSize, slip < 0 ? broken : Math.min(slip, broken));
  return bits.map((bit, i) =>
    i < from ? bit : { ...bit, sure: Math.min(bit.sure, RIVALLED), adrift: true },
  );
}

/**
 * Where the head is new nothing tells where the first line begins, and by chance one may swallow other
 * lines. So nothing is sure in one with codes that no listing shows.
 */
export function weakenOdd(
  bits: readonly SettledBit[],
  image: Uint8Array,
  nameSize: number,
): readonly SettledBit[] {
  if (!bits[8 * (nameSize + offsetOf('D_FILE'))]?.rebuilt) return bits;
  const result = [...bits];
  for (const { from, to } of oddLines(image)) {
    recount(result, 8 * (nameSize + from), 8 * (nameSize + to));
  }
  return result;
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
