/**
 * A program whose end the recording has lost. Its lines that were heard whole stand; the piece in which
 * the recording ends is closed where it ends, and what follows is that of a plain build, with pointers
 * to it. All from the cut piece on is in doubt, for nothing after it shows that it is in step.
 */

import { nearestOfDecimal } from '../../machine/arithmetic/decimal.js';
import {
  NEWLINE,
  NUMBER_MARKER,
  QUOTE,
  REM,
  SPACE,
  unicodeOfCode,
} from '../../machine/characters.js';
import {
  HEADER_SIZE,
  LINE_HEAD,
  offsetOf,
  plainHeader,
  setWord,
  statedLength,
  wordAt,
} from '../../machine/image-layout.js';
import {
  COLLAPSED_DISPLAY_SIZE,
  DISPLAY_COLUMNS,
  EDIT_LINE_SIZE,
  FULL_DISPLAY_SIZE,
  IMAGE_START,
  MACHINE_STACK_LOW,
  RAM_START,
  VARIABLES_END,
} from '../../machine/memory-map.js';
import { encodeNumber, LARGEST_NUMBER } from '../../machine/numbers.js';
import { KIND_BITS } from '../../machine/variables.js';
import { SURE_ENOUGH } from '../hearing/bit-finder.js';
import { bytesOfBits } from './bytes-of-bits.js';
import {
  type AreaOffsets,
  areaOffsets,
  checkStructure,
  endOfVariables,
  isHeadInStep,
  lineGoesOn,
} from './image-structure.js';
import { madeBefore, madeOver } from './made-bits.js';
import type { SettledBit } from './zone-settling.js';

/** An image with more bytes does not load in 2K: its machine keeps its display at full length. */
const LARGEST_COLLAPSED = 2048 - (IMAGE_START - RAM_START) - EDIT_LINE_SIZE - MACHINE_STACK_LOW;
/** A decimal number at the end of a text, that is no part of a name. */
const LAST_NUMBER = /(?<![0-9A-Z.])(?:\d+\.?\d*|\.\d+)(?:E[+-]?\d+)?$/;

/** A program with its end put in place. */
export interface Ended {
  /** Name and image. */
  readonly bits: SettledBit[];
  /** Bytes that its own pointers promise, from the cut piece on. */
  readonly lostBytes: number;
}

/** What of an image stands as it was heard, and what is put after it. */
interface Plan {
  /** Offset from which on nothing confirms what was heard. */
  readonly unsure: number;
  /** Offset from which on all is new. */
  readonly kept: number;
  readonly after: Uint8Array;
  readonly areas: AreaOffsets;
  /** Where the cut line stands, and its new length. */
  readonly line?: { readonly at: number; readonly length: number };
}

/**
 * The program with an end of its own, or undefined if it was heard to its last byte, or does not hold
 * together as far as it was heard.
 * @param bits from the name on, of which these are the last before the recording ends or pauses
 */
export function withNewEnd(bits: readonly SettledBit[], nameSize: number): Ended | undefined {
  const name = 8 * nameSize;
  const stated = statedLength(bytesOfBits(bits).subarray(nameSize));
  if (stated === undefined || bits.length >= name + 8 * stated) return undefined;
  let count = bits.length;
  while (count > name && bits[count - 1].sure < SURE_ENOUGH) count--;
  // A 1 that is cut off within its pulses looks like a 0; one that ends a line is a 0 for sure.
  const heard = bytesOfBits(bits.slice(name, count));
  const image = endsLine(heard, count - name) ? heard : bytesOfBits(bits.slice(name, count - 1));
  const plan = planFor(image, bits.slice(name + 8 * image.length, count - 1));
  if (plan === undefined) return undefined;
  const fresh = newImage(image, plan);
  const last = bits[count - 1];
  const made = madeBefore(fresh.subarray(plan.kept), { ...last, start: last.end });
  const kept = bits.slice(name, name + 8 * plan.kept).map((bit, i): SettledBit => {
    return i < 8 * plan.unsure ? bit : { ...bit, unfinished: true };
  });
  for (let at = 0; at < plan.kept; at++) {
    if (fresh[at] === image[at]) continue;
    const own = madeOver(fresh.subarray(at, at + 1), kept.slice(8 * at, 8 * at + 8));
    kept.splice(8 * at, 8, ...own.map(completed));
  }
  return {
    bits: [...bits.slice(0, name), ...kept, ...made.map(completed)],
    lostBytes: stated - plan.unsure,
  };
}

const completed = (bit: SettledBit): SettledBit => ({ ...bit, completed: true });

/** Is the last of these bits that of the last byte of a whole line? */
function endsLine(image: Uint8Array, bits: number): boolean {
  if ((bits & 7) > 0 || image.length <= HEADER_SIZE) return false;
  return checkStructure(image).walk.end === image.length;
}

/** @param begun the bits of a byte that was not heard whole */
function planFor(image: Uint8Array, begun: readonly SettledBit[]): Plan | undefined {
  const areas = areaOffsets(image);
  if (areas === undefined) return undefined;
  if (image.length >= areas.variables) return cutInVariables(image, areas);
  if (image.length >= areas.display) return cutInDisplay(image, areas, begun);
  const { end } = checkStructure(image).walk;
  if (image.length < HEADER_SIZE) return withoutLines(image, areas);
  return cutInProgram(image, areas, end);
}

function cutInVariables(image: Uint8Array, areas: AreaOffsets): Plan | undefined {
  const { end, display } = areas;
  // Only a display and variables that hold together show that this is what was heard.
  const kept = endOfVariables(image, areas.variables, image.length + 1);
  const { good } = checkStructure(image);
  if (good <= display) return undefined;
  if (kept < image.length && !variableGoesOn(image, kept, end)) return undefined;
  const after = Uint8Array.of(VARIABLES_END);
  return { unsure: kept, kept, after, areas: { ...areas, end: kept + 1 } };
}

/** Is it a variable that begins here, which ends after what was heard and before `end`? */
function variableGoesOn(image: Uint8Array, at: number, end: number): boolean {
  const longer = new Uint8Array(end);
  longer.set(image);
  // A name of several letters has its last one marked: without it there is no telling where it ends.
  if (
    image[at] >> 5 === KIND_BITS.longNumber &&
    !image.subarray(at + 1).some((code) => code >= 128)
  )
    return true;
  longer[end - 1] = VARIABLES_END;
  return image.length - at < 3 || endOfVariables(longer, at, end) > at;
}

function cutInDisplay(
  image: Uint8Array,
  areas: AreaOffsets,
  begun: readonly SettledBit[],
): Plan | undefined {
  const { display, variables } = areas;
  if (checkStructure(image).walk.end < display) return undefined;
  const rest = restOfDisplay(image.subarray(display), variables - display);
  const kept = rest === undefined ? display : image.length;
  const filling = rest ?? clearDisplay(areas);
  const after = Uint8Array.of(...filling, VARIABLES_END);
  // What is heard is the end of it, and something before it is lost.
  if (rest !== undefined && begun.some(({ bit }, i) => bit !== ((after[0] >> (7 - i)) & 1))) {
    return undefined;
  }
  const newVariables = kept + filling.length;
  return {
    unsure: display,
    kept,
    after,
    areas: { display, variables: newVariables, end: newVariables + 1 },
  };
}

/** What makes a display of `size` bytes that begins like this one; undefined if none does. */
function restOfDisplay(heard: Uint8Array, size: number): Uint8Array | undefined {
  const rows = COLLAPSED_DISPLAY_SIZE - heard.filter((code) => code === NEWLINE).length;
  let spaces = size - heard.length - rows;
  if (rows <= 0 || spaces < 0 || (heard.length > 0 && heard[0] !== NEWLINE)) return undefined;
  const rest: number[] = [];
  let column = heard.length - 1 - heard.lastIndexOf(NEWLINE);
  for (let row = 0; row < rows; row++) {
    const isFirst = heard.length === 0 && row === 0;
    const own = isFirst ? 0 : Math.min(spaces, DISPLAY_COLUMNS - column);
    if (own < 0) return undefined;
    rest.push(...new Array<number>(own).fill(SPACE), NEWLINE);
    spaces -= own;
    column = 0;
  }
  return spaces === 0 ? Uint8Array.from(rest) : undefined;
}

/** A clear display as the machine that saved this program has it. */
function clearDisplay({ display, variables, end }: AreaOffsets): Uint8Array {
  const isFull = variables - display === FULL_DISPLAY_SIZE || end > LARGEST_COLLAPSED;
  const size = isFull ? FULL_DISPLAY_SIZE : COLLAPSED_DISPLAY_SIZE;
  return restOfDisplay(new Uint8Array(0), size)!;
}

function cutInProgram(image: Uint8Array, areas: AreaOffsets, cut: number): Plan | undefined {
  if (cut < image.length && !lineGoesOn(image, cut, areas.display)) return undefined;
  const text = closedText(image.subarray(cut + LINE_HEAD));
  const head = image.slice(cut, cut + LINE_HEAD);
  let line = new Uint8Array(0);
  if (text !== undefined) {
    line = Uint8Array.of(...head, ...text, NEWLINE);
    setWord(line, 2, text.length + 1);
  }
  const isKept = (i: number) => i === 2 || i === 3 || line[i] === image[cut + i];
  let same = 0;
  while (same < Math.min(line.length, image.length - cut) && isKept(same)) same++;
  const isSure = cut > HEADER_SIZE || isHeadInStep(image);
  const plan = endedAt(cut + line.length, areas, line.subarray(same));
  return {
    ...plan,
    unsure: isSure ? cut : 0,
    kept: cut + same,
    line: text && { at: cut, length: text.length + 1 },
  };
}

function withoutLines(image: Uint8Array, areas: AreaOffsets): Plan {
  const header = plainHeader({ areas: { D_FILE: 0, VARS: 0, E_LINE: 0 } });
  const plan = endedAt(HEADER_SIZE, areas, header.subarray(image.length));
  return { ...plan, unsure: 0, kept: image.length };
}

/** A display and no variables after a program that ends here; `before` stands between. */
function endedAt(
  display: number,
  areas: AreaOffsets,
  before: Uint8Array,
): Pick<Plan, 'after' | 'areas'> {
  const clear = clearDisplay(areas);
  const variables = display + clear.length;
  return {
    after: Uint8Array.of(...before, ...clear, VARIABLES_END),
    areas: { display, variables, end: variables + 1 },
  };
}

/**
 * The text of a line as far as it was heard, without NEWLINE; undefined if there is none. A number at
 * its end gets the five bytes that follow one, as its digits say.
 */
function closedText(heard: Uint8Array): Uint8Array | undefined {
  if (heard.length === 0) return undefined;
  if (heard[0] === REM) return heard;
  let isString = false;
  let end = heard.length;
  for (let at = 0; at < heard.length; at++) {
    if (heard[at] === QUOTE) isString = !isString;
    if (heard[at] !== NUMBER_MARKER) continue;
    if (at + 5 >= heard.length) end = at;
    at += 5;
  }
  const text = heard.subarray(0, end);
  if (isString) return text;
  const shown = [...text].map((code) => (code < 64 ? unicodeOfCode(code)! : ' ')).join('');
  const digits = LAST_NUMBER.exec(shown)?.[0];
  if (digits === undefined) return text;
  const value = nearestOfDecimal(digits);
  if (!(value <= LARGEST_NUMBER)) return text;
  return Uint8Array.of(...text, NUMBER_MARKER, ...encodeNumber(value));
}

/** The image as it is planned, with pointers to where its areas are. */
function newImage(heard: Uint8Array, { kept, after, areas, line }: Plan): Uint8Array {
  const image = Uint8Array.of(...heard.subarray(0, kept), ...after);
  if (line !== undefined) setWord(image, line.at + 2, line.length);
  const old = areaOffsets(heard)!;
  const address = (offset: number) => IMAGE_START + offset;
  const plain = plainHeader({
    areas: {
      D_FILE: address(areas.display),
      VARS: address(areas.variables),
      E_LINE: address(areas.end),
    },
  });
  const names: string[] = [];
  if (areas.display !== old.display) {
    names.push('D_FILE', 'DF_CC');
    // A line to start with that was not heard cannot be run.
    const next = wordAt(image, offsetOf('NXTLIN'));
    if (next >= address(Math.min(kept, areas.display))) names.push('NXTLIN');
  }
  if (areas.variables !== old.variables) names.push('VARS');
  if (areas.end !== old.end) names.push('E_LINE', 'CH_ADD', 'STKBOT', 'STKEND');
  for (const name of names) setWord(image, offsetOf(name), wordAt(plain, offsetOf(name)));
  return image;
}
