/**
 * What the bytes of an image must satisfy, whatever the program is: where its areas stand, how its
 * lines and variables follow one another. Source: the manual, chapter 27, from memory.
 */

import { FIRST_LETTER, NEWLINE, NUMBER_MARKER, REM } from '../../machine/characters.js';
import {
  endOfLine,
  HEAD_SIZE,
  HEADER_SIZE,
  LINE_HEAD,
  numberAt,
  offsetOf,
  wordAt,
} from '../../machine/image-layout.js';
import {
  type AreaName,
  COLLAPSED_DISPLAY_SIZE,
  HIGHEST_LINE,
  IMAGE_START,
  RAM_START,
  VARIABLES_END,
} from '../../machine/memory-map.js';
import { NUMBER_SIZE } from '../../machine/numbers.js';
import { LARGEST_RAM } from '../../machine/ram-size.js';
import { systemVariable } from '../../machine/system-variables.js';
import { endOfVariable } from '../../machine/variables.js';

/** The longest name that is looked for. */
export const LONGEST_NAME = 64;
/** Codes from here up have no character that a name could be typed with. */
export const NAME_CODES = 67;
/** The printer's buffer ends here, with NEWLINE: a head that has it there is in step. */
export const PRINTER_END = offsetOf('PRBUFF') + systemVariable('PRBUFF')!.size - 1;
/** Bits by which it may be out of place. */
const MOST_ASTRAY = 16;
/** What an odd code in the program costs, in bytes of an image that hold together. */
const ODDITY = 20;
/** Worth of an image that holds together to its last byte. */
const WHOLE = 1000;

/** Where the areas of an image begin, as offsets into it. */
export interface AreaOffsets {
  readonly display: number;
  readonly variables: number;
  readonly end: number;
}

/** The areas by the image's own pointers, or undefined if these cannot be. */
export function areaOffsets(image: Uint8Array): AreaOffsets | undefined {
  if (image.length < HEAD_SIZE) return undefined;
  const pointer = (name: string) => wordAt(image, offsetOf(name)) - IMAGE_START;
  const areas = { display: pointer('D_FILE'), variables: pointer('VARS'), end: pointer('E_LINE') };
  return areasFit(areas) ? areas : undefined;
}

/** Can areas begin there? */
export const areasFit = ({ display, variables, end }: AreaOffsets): boolean =>
  display >= HEADER_SIZE &&
  variables >= display + COLLAPSED_DISPLAY_SIZE &&
  end > variables &&
  end <= RAM_START + LARGEST_RAM - IMAGE_START;

/** Do the other pointers of an image's head lie where they must? They do unless a program changed them. */
export function pointersAgree(image: Uint8Array): boolean {
  if (areaOffsets(image) === undefined || image.length < offsetOf('STKEND') + 2) return false;
  const pointer = (name: string) => wordAt(image, offsetOf(name));
  return (
    pointer('DF_CC') >= pointer('D_FILE') &&
    pointer('DF_CC') <= pointer('VARS') &&
    pointer('STKBOT') >= pointer('E_LINE') &&
    pointer('STKEND') >= pointer('STKBOT')
  );
}

/** Is a head in step to its end? Its pointers agree, and the printer's buffer ends as on a fresh machine. */
export const isHeadInStep = (image: Uint8Array): boolean =>
  pointersAgree(image) && image[PRINTER_END] === NEWLINE;

/** What is known of a program's lines from its first on, as far as they hold together. */
export interface LineWalk {
  /** Offset in the image of what follows the last of these lines. */
  readonly end: number;
  /** Lines of the program in which everything follows as it must. */
  readonly lines: number;
  /** Number of the last of them. */
  readonly lastNumber: number;
  /** Codes in program text that the machine does not have: possible, but rare. */
  readonly oddities: number;
}

export interface Structure {
  /** Bytes from the start of the image in which everything follows as it must. */
  readonly good: number;
  /** Everything follows, to the last byte. */
  readonly whole: boolean;
  /** Its lines: from there a longer image that begins like this one can be gone through. */
  readonly walk: LineWalk;
}

const NO_LINES: LineWalk = { end: HEADER_SIZE, lines: 0, lastNumber: 0, oddities: 0 };

/**
 * How much speaks for a reading of an image. Odd codes weigh more than the bytes of a line that holds
 * together with them: else one line that swallows all the others would be the best reading.
 */
export function worthOf({ good, walk, whole }: Structure): number {
  return good - ODDITY * walk.oddities + (whole ? WHOLE : 0);
}

/**
 * How far the image holds together.
 * @param known of an image that begins with the same lines, to save going through them again
 */
export function checkStructure(image: Uint8Array, known = NO_LINES): Structure {
  const areas = areaOffsets(image);
  const walk = areas === undefined ? NO_LINES : walkLines(image, areas.display, known);
  const upTo = (good: number, whole: boolean): Structure => {
    return { good: Math.min(good, image.length), whole, walk };
  };
  const broken = (good: number) => upTo(good, false);
  if (areas === undefined) return broken(0);
  if (walk.end < areas.display) return broken(walk.end);
  let newlines = 0;
  for (let i = areas.display; i < areas.variables; i++) if (image[i] === NEWLINE) newlines++;
  if (image[areas.display] !== NEWLINE || newlines !== COLLAPSED_DISPLAY_SIZE) {
    return broken(areas.display);
  }
  const variables = endOfVariables(image, areas.variables, areas.end);
  if (variables < areas.end) return broken(variables);
  return upTo(areas.end, image.length === areas.end);
}

function walkLines(image: Uint8Array, end: number, known: LineWalk): LineWalk {
  let { end: at, lines, lastNumber, oddities } = known;
  while (at < end) {
    const next = endOfNumberedLine(image, at);
    const { number } = lineAt(image, at);
    if (next === undefined || next > end || number <= lastNumber) break;
    oddities += oddCodes(image, at + LINE_HEAD, next - 1);
    lastNumber = number;
    lines++;
    at = next;
  }
  return { end: at, lines, lastNumber, oddities };
}

function lineAt(image: Uint8Array, at: number): { number: number; end: number } {
  return { number: numberAt(image, at), end: at + LINE_HEAD + wordAt(image, at + 2) };
}

/** Where a line that begins at `at` ends, if one can: its number has to make sense as well. */
export function endOfNumberedLine(bytes: Uint8Array, at: number): number | undefined {
  const { number } = lineAt(bytes, at);
  return number > 0 && number <= HIGHEST_LINE ? endOfLine(bytes, at, bytes.length) : undefined;
}

/** Begins here what may be a line that ends after the last of these bytes, and no later than `end`? */
export function lineGoesOn(bytes: Uint8Array, at: number, end: number): boolean {
  const heard = bytes.length - at;
  const { number, end: own } = lineAt(bytes, at);
  if (heard >= 2 && (number <= 0 || number > HIGHEST_LINE)) return false;
  return heard < LINE_HEAD || (own > bytes.length && own <= end);
}

/** Where a line that begins at `at` ends, if one can that ends no later than `end`, and there or before a later number. */
export function lineBefore(bytes: Uint8Array, at: number, end: number): number | undefined {
  const own = endOfNumberedLine(bytes, at);
  if (own === undefined || own > end) return undefined;
  const follows = own === end || lineAt(bytes, own).number > lineAt(bytes, at).number;
  return follows ? own : undefined;
}

/** Does a row of so many lines begin here, with a number above this one and no odd code in them? */
export function linesBegin(bytes: Uint8Array, from: number, above: number, count: number): boolean {
  let at = from;
  let number = above;
  for (let i = 0; i < count; i++) {
    const end = endOfNumberedLine(bytes, at);
    const own = lineAt(bytes, at).number;
    if (end === undefined || own <= number) return false;
    if (oddCodes(bytes, at + LINE_HEAD, end - 1) > 0) return false;
    number = own;
    at = end;
  }
  return true;
}

/**
 * Is all that is in the printer's buffer its NEWLINE, and that out of place by some bits? Bits were lost
 * before it, or doubled. A program may keep what it likes there.
 */
export function isPrinterAstray(image: Uint8Array): boolean {
  const bitAt = (at: number) => (image[at >> 3] >> (7 - (at & 7))) & 1;
  let first = 8 * offsetOf('PRBUFF');
  const last = 8 * (PRINTER_END + 1) + MOST_ASTRAY;
  while (first < last && bitAt(first) === 0) first++;
  const at = first - (Math.clz32(NEWLINE) - 24);
  const isOut = at !== 8 * PRINTER_END && Math.abs(at - 8 * PRINTER_END) <= MOST_ASTRAY;
  return isOut && Array.from({ length: 8 }, (_, i) => bitAt(at + i)).every(isNewlineBit);
}

const isNewlineBit = (bit: number, index: number): boolean =>
  bit === ((NEWLINE >> (7 - index)) & 1);

/** Where the lines of an image stand that hold codes that no listing shows. */
export function oddLines(image: Uint8Array): { from: number; to: number }[] {
  const odd: { from: number; to: number }[] = [];
  const display = areaOffsets(image)?.display ?? 0;
  for (let from = HEADER_SIZE; from < display; ) {
    const to = endOfLine(image, from, display);
    if (to === undefined) break;
    if (oddCodes(image, from + LINE_HEAD, to - 1) > 0) odd.push({ from, to });
    from = to;
  }
  return odd;
}

/** Codes in a line's text that no listing shows. */
function oddCodes(image: Uint8Array, from: number, to: number): number {
  const isRem = image[from] === REM;
  let odd = 0;
  for (let i = from; i < to; i++) {
    const code = image[i];
    if (isOddCode(code, i === from, isRem)) odd++;
    if (!isRem && code === NUMBER_MARKER) i += NUMBER_SIZE;
  }
  return odd;
}

/** Does no listing show this code there? REM may hold anything, but seldom NEWLINE. */
export function isOddCode(code: number, isFirst: boolean, isRem: boolean): boolean {
  if (isRem) return code === NEWLINE;
  // A statement begins with a command, and only there.
  if (isFirst && code < 225) return true;
  return code !== NUMBER_MARKER && ((code >= 67 && code < 128) || code === 195);
}

/** Where variables that begin at `from` stop making sense: `end` if they do to the last byte. */
export function endOfVariables(image: Uint8Array, from: number, end: number): number {
  let at = from;
  while (at < end - 1) {
    // A name begins with a letter.
    const next =
      (image[at] & 31) < (FIRST_LETTER & 31) ? undefined : endOfVariable(image, at, end - 1);
    if (next === undefined) return at;
    at = next;
  }
  return image[at] === VARIABLES_END ? end : at;
}

/**
 * The piece of the image around an offset in which bits lost and bits doubled could make up for each
 * other unseen: the system variables, one line, or all that follows the program. It is the head of
 * the next piece that shows whether the bits are in step, so a head belongs to both.
 */
export function unitAround(image: Uint8Array, offset: number): { from: number; to: number } {
  const display = areaOffsets(image)?.display ?? HEADER_SIZE;
  let [from, to] = [0, HEADER_SIZE];
  for (;;) {
    if (to >= image.length) return { from, to: image.length };
    const next = endOfPiece(image, to, display);
    if (offset < to) return { from, to: to + LINE_HEAD };
    if (offset < to + LINE_HEAD) return { from, to: next + LINE_HEAD };
    [from, to] = [to, next];
  }
}

function endOfPiece(image: Uint8Array, at: number, display: number): number {
  if (at >= display) return image.length;
  const { end } = lineAt(image, at);
  return end <= at + LINE_HEAD || end > display ? image.length : end;
}

/** Where a byte of an image stands. */
export interface BytePlace {
  readonly area: Extract<AreaName, 'system variables' | 'program' | 'display' | 'variables'>;
  /** The program line that it is in. */
  readonly line?: number;
}

/** The place of every offset asked for, in ascending order. */
export function placesOf(image: Uint8Array, offsets: readonly number[]): BytePlace[] {
  const areas = areaOffsets(image) ?? { display: image.length, variables: image.length };
  let at = HEADER_SIZE;
  return offsets.map((offset) => {
    if (offset < HEADER_SIZE) return { area: 'system variables' };
    if (offset >= areas.variables) return { area: 'variables' };
    if (offset >= areas.display) return { area: 'display' };
    for (;;) {
      const line = lineAt(image, at);
      if (offset < line.end) return { area: 'program', line: line.number };
      // A line that is too short to be one: the chain is broken from here on.
      if (line.end <= at + LINE_HEAD || line.end > areas.display) return { area: 'program' };
      at = line.end;
    }
  });
}
