/**
 * Bits that were lost or doubled without a sound of it: where a tape was cut and joined, or a player
 * stuttered, the pulses may look right and the time as well. From there on the image is out of step.
 * What follows shows by how many bits: only one number of them brings the lines back into step.
 */

import { NEWLINE } from '../../machine/characters.js';
import { HEAD_SIZE, HEADER_SIZE, LINE_HEAD, numberAt } from '../../machine/image-layout.js';
import type { Budget } from './budget.js';
import { bytesAtShifts, bytesOfBits, everyRow } from './bytes-of-bits.js';
import { checkStructure, linesBegin, type Structure, worthOf } from './image-structure.js';
import { madeBefore, madeOver, timeless } from './made-bits.js';
import type { SettledBit } from './zone-settling.js';

/** Bits that may be lost or doubled in one place. */
const MOST_SLIPPED = 10;
/** Places in one image where that is looked for. */
const MOST_PLACES = 100;
/** A slip is believed if it brings the image together to its end, or so many lines more. */
const LINES_GAINED = 2;
/** Bytes after the place where the image breaks in which the slip may be. */
const REACH = 300;
/** Bits in which each place is tried: all that a line's number and length have, and more; then each byte. */
const CLOSELY = 8 * HEAD_SIZE;
/** Up to so many lost bits all their values are tried; of more, zeros alone. */
const FILLED = 2;

/** Bytes for which one slip counts that is tried, and each bit of a row in which they are. */
const SLIP_COST = 200;
const ROW_COST = 10;

/** A bridge over bits that cannot be read leads to so many lines in a row that can. */
const LINES_BRIDGED = 3;
/** Bytes in which these are looked for. */
const LONGEST_BRIDGE = 1500;
/** A line has a number, a length, a command and NEWLINE. */
const SHORTEST_LINE = LINE_HEAD + 2;
/** Bytes by which the bridge may be longer or shorter than what was heard there. */
const SIZES = [0, 1, -1, 2, -2];

/** One way to bring bits back into step: these are put in before bit `at`, or so many left out. */
interface Slip {
  readonly at: number;
  readonly filling: readonly (0 | 1)[];
  readonly leftOut: number;
}

/** A slip, and the first and last place that would do as well. */
interface Found {
  readonly slip: Slip;
  readonly from: number;
  readonly to: number;
}

/**
 * The bits again, brought back into step wherever that can be seen, as far as the budget goes; the
 * same ones where not.
 */
export function backInStep(
  bits: readonly SettledBit[],
  nameSize: number,
  budget: Budget,
): readonly SettledBit[] {
  let row = bits;
  for (let place = 0; place < MOST_PLACES; place++) {
    if (budget.isSpent()) break;
    const found = findSlip(row, nameSize, budget);
    const mended = found ? withSlip(row, found) : bridge(row, nameSize);
    if (mended === undefined) break;
    row = mended;
  }
  return row;
}

function findSlip(
  bits: readonly SettledBit[],
  nameSize: number,
  budget: Budget,
): Found | undefined {
  const row = new ShiftedRow(bits, nameSize);
  const now = checkStructure(row.image());
  if (now.whole) return undefined;
  let best: Structure = now;
  let found: Slip[] = [];
  const from = 8 * (nameSize + whereItBegan(now.good));
  // Where the slip is not in the head, the lines up to it stay as they are.
  const known = from > 8 * nameSize ? now.walk : undefined;
  // To make the row and to look for the places takes a while whether or not one is found.
  budget.spend(ROW_COST * bits.length);
  for (const slip of slipsAround(from, bits.length)) {
    budget.spend(SLIP_COST + ((bits.length - from) >> 5));
    if (budget.isSpent()) break;
    const then = checkStructure(row.image(slip), known);
    if (!then.whole && then.walk.lines < now.walk.lines + LINES_GAINED) continue;
    const better = compare(then, slip, best, found[0]);
    if (better > 0) found = [];
    if (better >= 0) found.push(slip);
    if (better > 0) best = then;
  }
  // Of places that are equally good, the one where the bits are the least clear.
  const sureAt = ({ at }: Slip) => Math.min(bits[at]?.sure ?? 1, bits[at - 1]?.sure ?? 1);
  if (found.length === 0) return undefined;
  const slip = found.reduce((least, one) => (sureAt(least) <= sureAt(one) ? least : one));
  return { slip, from: found[0].at, to: found[found.length - 1].at };
}

/** Offset into the image from which bits may be out of step, if it is good up to another. */
function whereItBegan(good: number): number {
  return good > HEADER_SIZE ? good : 0;
}

function* slipsAround(from: number, end: number): Generator<Slip> {
  const to = Math.min(from + 8 * REACH, end);
  for (let at = from; at < to; at += at < from + CLOSELY ? 1 : 8) {
    for (let bits = 1; bits <= MOST_SLIPPED; bits++) {
      if (at + bits <= end) yield { at, filling: [], leftOut: bits };
      for (const filling of fillings(bits)) yield { at, filling, leftOut: 0 };
    }
  }
}

function fillings(length: number): (0 | 1)[][] {
  return length > FILLED ? [new Array(length).fill(0)] : everyRow(length);
}

/** More than 0 if the first is the better, 0 if they are as good. */
function compare(a: Structure, slip: Slip, b: Structure, other: Slip | undefined): number {
  const size = ({ filling, leftOut }: Slip) => filling.length + leftOut;
  return worthOf(a) - worthOf(b) || (other === undefined ? 1 : size(other) - size(slip));
}

function withSlip(bits: readonly SettledBit[], { slip, from, to }: Found): SettledBit[] {
  const { at, filling, leftOut } = slip;
  const next = bits[at + leftOut];
  const beside = next ?? bits[bits.length - 1];
  const put = filling.map((bit): SettledBit => {
    return { ...timeless(bit, beside), sure: 0, other: undefined, chosen: true, slip: true };
  });
  const marked = [...bits];
  // It takes the time of those that are left out: a gap would look like a hole in the tape.
  if (next) marked[at + leftOut] = { ...next, sure: 0, start: bits[at].start };
  for (const place of [from, at + leftOut, Math.max(to, at + leftOut)]) {
    if (place < marked.length) marked[place] = { ...marked[place], slip: true };
  }
  return [...marked.slice(0, at), ...put, ...marked.slice(at + leftOut)];
}

/**
 * Where no single slip mends the image, all bits up to the next lines that can be read are made one
 * line. What it holds is in doubt, and what follows is not lost with it.
 */
function bridge(bits: readonly SettledBit[], nameSize: number): SettledBit[] | undefined {
  const image = bytesOfBits(bits).subarray(nameSize);
  const { whole, walk, good } = checkStructure(image);
  if (whole || good !== walk.end) return undefined;
  const from = 8 * (nameSize + walk.end);
  // One number must be left for the line.
  const to = nextLines(bits, from + 8 * SHORTEST_LINE, walk.lastNumber + 1);
  if (to === undefined) return undefined;
  const next = bytesOfBits(bits.slice(to, to + 16));
  const number = (walk.lastNumber + numberAt(next, 0)) >> 1;
  const bytes = Math.round((to - from) / 8);
  const sizes = SIZES.map((more) => bytes + more).filter((size) => size >= SHORTEST_LINE);
  const rows = sizes.map((size) => withBridge(bits, from, to, number, size));
  // The pointers say how long it must be, if it is the last place that is damaged.
  const isWhole = (row: SettledBit[]) => checkStructure(bytesOfBits(row).subarray(nameSize)).whole;
  return rows.find(isWhole) ?? rows[0];
}

/** The first bit of a row of lines that can be read, with numbers above this one. */
function nextLines(bits: readonly SettledBit[], from: number, above: number): number | undefined {
  const near = bits.slice(from, from + 8 * LONGEST_BRIDGE);
  const rows = bytesAtShifts(near);
  for (let at = 0; at < 8 * REACH; at++) {
    if (linesBegin(rows[at & 7], at >> 3, above, LINES_BRIDGED)) return from + at;
  }
  return undefined;
}

/** The bits `from` to `to` made a line of so many bytes in all. */
function withBridge(
  bits: readonly SettledBit[],
  from: number,
  to: number,
  number: number,
  size: number,
): SettledBit[] {
  const length = size - LINE_HEAD;
  const gap = bits.slice(from, to);
  const head = madeOver(Uint8Array.of(number >> 8, number, length, length >> 8), gap);
  const end = madeOver(Uint8Array.of(NEWLINE), gap.slice(-8));
  const room = 8 * (length - 1);
  const heard = gap.slice(head.length, -8).slice(0, room);
  const filled = madeBefore(new Uint8Array((room - heard.length + 7) >> 3), end[0]);
  const text = [...heard, ...filled].slice(0, room);
  const line = [...head, ...text, ...end].map((bit) => ({ ...bit, slip: true }));
  return [...bits.slice(0, from), ...line, ...bits.slice(to)];
}

/** The bytes of a row of bits, and of all that it is with a slip in it. */
class ShiftedRow {
  private readonly shifted: readonly Uint8Array[];
  private readonly row: Uint8Array;

  constructor(
    private readonly bits: readonly SettledBit[],
    private readonly nameSize: number,
  ) {
    this.shifted = bytesAtShifts(bits);
    this.row = new Uint8Array(this.shifted[0].length + 2);
  }

  /** The image with this slip; it stands until the next one is asked for. */
  image(slip?: Slip): Uint8Array {
    if (slip === undefined) return this.shifted[0].subarray(this.nameSize);
    const { bits, row, nameSize } = this;
    const { at, filling, leftOut } = slip;
    const more = filling.length - leftOut;
    const count = bits.length + more;
    const whole = at >> 3;
    // The first byte that has only bits from after the slip.
    const after = Math.min((at + filling.length + 7) >> 3, count >> 3);
    row.set(this.shifted[0].subarray(0, whole));
    for (let byte = whole; byte < after; byte++) {
      let value = 0;
      for (let i = 8 * byte; i < 8 * byte + 8; i++) {
        const inside = i - at;
        const bit =
          inside < 0 ? bits[i].bit : inside < filling.length ? filling[inside] : bits[i - more].bit;
        value = 2 * value + bit;
      }
      row[byte] = value;
    }
    const source = 8 * after - more;
    const bytes = (count >> 3) - after;
    const from = this.shifted[source & 7].subarray(source >> 3, (source >> 3) + bytes);
    row.set(from, after);
    return row.subarray(nameSize, count >> 3);
  }
}
