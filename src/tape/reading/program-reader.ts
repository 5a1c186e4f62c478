/** From bits to programs: where one begins, what its bytes are, and which of them are in doubt. */
import { statedLength } from '../../machine/image-layout.js';
import { BIT_SECONDS, NAME_END } from '../../machine/tape-signal.js';
import { SURE_ENOUGH, type TapeBit } from '../hearing/bit-finder.js';
import { doubtHoles } from '../mending/bit-lengths.js';
import { Budget } from '../mending/budget.js';
import { bytesOfBits } from '../mending/bytes-of-bits.js';
import { areaOffsets, checkStructure } from '../mending/image-structure.js';
import { withNewEnd } from '../mending/lost-end.js';
import { clearBits, holeBefore } from '../mending/unclear-zones.js';
import type { Settled, SettledBit } from '../mending/zone-settling.js';
import { findBeginning, isFragment, nameLength } from './beginning.js';
import { doubtsOf, isClear } from './doubts.js';
import { PackedBits } from './packed-bits.js';
import type { Channel, Fragment, RecoveredProgram } from './recovery.js';
import {
  weakenAdrift,
  weakenAstray,
  weakenOdd,
  weakenRecounted,
  weakenRivalled,
} from './weaken.js';

/** With fewer clear bits than this it is not said to be a program: no image has under 142 bytes. */
const FEWEST_CLEAR_BITS = 800;
/** A piece with fewer bits is not worth a look. */
const FEWEST_BITS = 64;
/** Bytes for which a bit counts in a look for a beginning. */
const BIT_COST = 100;

/** What a row of bits without long gaps holds. */
export interface Found {
  readonly programs: RecoveredProgram[];
  readonly fragments: Fragment[];
}

/** The programs in a row of bits, as far as the budget goes. */
export function readPrograms(
  bits: readonly TapeBit[],
  channel: Channel,
  budget = Budget.ofSeconds(secondsOf(bits)),
): Found {
  const found: Found = { programs: [], fragments: [] };
  const addFragment = (piece: readonly TapeBit[]) => {
    if (isFragment(piece)) found.fragments.push(fragmentOf(piece));
  };
  let rest = [...doubtHoles(bits)];
  while (rest.length >= FEWEST_BITS) {
    budget.spend(BIT_COST * rest.length);
    const goOn =
      clearBits(rest) >= FEWEST_CLEAR_BITS && !(rest.length < bits.length && budget.isSpent());
    const begun = goOn ? findBeginning(rest, budget) : undefined;
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

/** How long these bits play. */
export function secondsOf(bits: readonly TapeBit[]): number {
  return bits.length === 0 ? 0 : bits[bits.length - 1].end - bits[0].start;
}

function fragmentOf(bits: readonly TapeBit[]): Fragment {
  return { start: bits[0].start, end: bits[bits.length - 1].end, bits: bits.length };
}

/**
 * The program that these bits are, from its name on, and how many of them it took.
 * @returns undefined if they do not begin with a name
 */
export function readProgram(
  { bits: settled, rivals }: Settled,
  channel: Channel,
): { program: RecoveredProgram; used: number } | undefined {
  const nameSize = nameLength(settled, 0);
  if (nameSize === undefined) return undefined;
  const ended = withNewEnd(settled, nameSize);
  const bits = ended?.bits ?? settled;
  const heard = bytesOfBits(bits);
  const head = heard.subarray(nameSize);
  // Without sensible pointers the image is as long as what was heard.
  const size = areaOffsets(head) ? statedLength(head)! : head.length;
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
  // Without its end an image shows too little for a count of unclear bits to be believed.
  const counted = weakenRecounted(rivalled, image, nameSize, whole && ended === undefined);
  const inStep = weakenAstray(weakenOdd(counted, image, nameSize), image, nameSize);
  const clear = used === 8 * tape.length && !goesOn && inStep.every(isClear);
  const marked = whole || clear ? inStep : weakenAdrift(inStep, image, nameSize, structure.good);
  const isPutIn = (bit: SettledBit) => bit.rebuilt || bit.unfinished || bit.completed;
  const own = marked.map((bit) => (isPutIn(bit) ? { ...bit, sure: 0 } : bit));
  const program: RecoveredProgram = {
    name,
    image,
    start: own[0].start,
    end: own[used - 1].end,
    speed: speedOf(own),
    certainty: used < 8 * tape.length ? 0 : own.reduce((least, b) => Math.min(least, b.sure), 1),
    doubts: doubtsOf(own, tape, nameSize, rivals),
    whole,
    lostBytes: ended?.lostBytes ?? 0,
    channel,
    bits: new PackedBits(own),
  };
  return { program, used: ended === undefined ? used : settled.length };
}

/** Mean speed against the machine's own, from the time that the bits took. */
function speedOf(bits: readonly TapeBit[]): number {
  let [taken, own] = [0, 0];
  for (const { bit, start, end } of bits) {
    if (end <= start) continue;
    taken = taken + end - start;
    own += BIT_SECONDS[bit];
  }
  return own / Math.max(taken, 1e-9);
}

/** Do clear bits follow the last one without a pause, too few for a program of their own? */
function strayEnd(bits: readonly TapeBit[], used: number): boolean {
  const next = bits[used];
  if (next === undefined || bits.length - used >= FEWEST_BITS) return false;
  return !holeBefore(bits, used) && next.sure >= SURE_ENOUGH;
}
