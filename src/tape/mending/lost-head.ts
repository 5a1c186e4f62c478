/**
 * A program whose beginning the tape has lost: the name, or pointers that say where its areas are.
 * The lines, the display and the variables show where they stand by themselves; what they need is put
 * before them, as a fresh machine would have it, and every byte of that is in doubt.
 */

import { codeOfUnicode, hasGlyph, NEWLINE } from '../../machine/characters.js';
import { HEADER_SIZE, numberAt, offsetOf, plainHeader } from '../../machine/image-layout.js';
import {
  COLLAPSED_DISPLAY_SIZE,
  DISPLAY_COLUMNS,
  IMAGE_START,
  VARIABLES_END,
} from '../../machine/memory-map.js';
import { NAME_END } from '../../machine/tape-signal.js';
import type { TapeBit } from '../hearing/bit-finder.js';
import { bytesAtShifts, bytesOfBits } from './bytes-of-bits.js';
import {
  endOfNumberedLine,
  endOfVariables,
  lineBefore,
  linesBegin,
  PRINTER_END,
} from './image-structure.js';
import { madeBefore, madeOver } from './made-bits.js';
import type { SettledBit } from './zone-settling.js';

/** Stands for the name. */
const NO_NAME = codeOfUnicode('?')!;
/** Bits after the last byte that may be noise. */
const STRAY_BITS = 24;
/** Bits of a line's number. */
const NUMBER_BITS = 16;
/** Bits by which the end of the buffer may be out of place. */
const PRINTER_SLACK = 10;
/** So many lines in a row are a program, though what follows them is out of step. */
const LINES_ENOUGH = 3;
/** Bytes by which the image may be longer or shorter than what was heard of it. */
const SIZES = [0, 1, -1, 2];

/** Where the areas of a program without its head stand, as bits from the first heard. */
interface AreaBits {
  readonly program: number;
  readonly display: number;
  readonly variables: number;
  readonly end: number;
}

/** Bits with a head that makes sense, and those before them that have no place in it. */
export interface Headed {
  readonly bits: SettledBit[];
  readonly skipped: TapeBit[];
}

/**
 * The bits with sensible pointers in the head that follows a name of so many bytes: one row for each
 * length that the image may have, as bits may be lost or doubled. Empty if they hold no program.
 */
export function withNewPointers(bits: readonly TapeBit[], nameSize: number): Headed[] {
  const head = 8 * nameSize;
  const areas = findAreas(bits);
  if (areas === undefined || !hasPrinter(bits, head)) return [];
  const heard = Math.round((areas.end - head) / 8);
  return SIZES.map((more) => {
    const header = headerFor(bits, { ...areas, size: heard + more });
    const [from, to] = [offsetOf('D_FILE'), offsetOf('BERG')];
    const at = head + 8 * from;
    const row: SettledBit[] = bits.slice(0, areas.end);
    const pointers = asFresh(madeOver(header.subarray(from, to), row.slice(at)));
    row.splice(at, pointers.length, ...pointers);
    // What broke the pointers may have moved all that follows them, up to where the buffer ends.
    doubt(row, at + pointers.length, head + 8 * PRINTER_END);
    const inStep =
      areas.program === head + 8 * HEADER_SIZE && isNewline(bits, head + 8 * PRINTER_END);
    if (!inStep) doubt(row, areas.program, areas.program + NUMBER_BITS);
    return { bits: row, skipped: [] };
  });
}

/**
 * The bits with a name and a whole head put before the program; if its end is lost as well, with that
 * of a fresh machine after its last line. Undefined if they hold no program.
 */
export function withNewHead(bits: readonly TapeBit[]): Headed | undefined {
  const found = headed(bits);
  if (found !== undefined) return found;
  const ended = withNewEnd(bits);
  return ended && headed(ended);
}

function headed(bits: readonly TapeBit[]): Headed | undefined {
  const areas = findAreas(bits);
  if (areas === undefined) return undefined;
  const { program, end } = areas;
  const before = bits.slice(0, program);
  const size = HEADER_SIZE + Math.round((end - program) / 8);
  const heard = 8 * heardBytes(before);
  const header = headerFor(bits, { ...areas, size }).subarray(0, HEADER_SIZE - heard / 8);
  const made = madeBefore(Uint8Array.of(NO_NAME | NAME_END, ...header), bits[program - heard]);
  const lines = bits.slice(program, end);
  // Where the line ends shows where its length is; bits lost or doubled in its number show only in
  // what comes before it.
  if (heard === 0 && !isNewline(bits, program - 8)) doubt(lines, 0, NUMBER_BITS);
  return {
    bits: [...asFresh(made), ...doubted(bits.slice(program - heard, program)), ...lines],
    skipped: before.slice(0, before.length - heard),
  };
}

/** The bits up to the last line that can be read, then a clear display and no variables. */
function withNewEnd(bits: readonly TapeBit[]): TapeBit[] | undefined {
  const lines = bytesAtShifts(bits).flatMap((bytes, shift) => {
    const line = lastLineOfRun(bytes);
    return line ? [{ from: shift + 8 * line.from, to: shift + 8 * line.to }] : [];
  });
  if (lines.length === 0) return undefined;
  const { from, to: end } = lines.reduce((last, one) => (one.to > last.to ? one : last));
  const kept: SettledBit[] = bits.slice(0, end);
  // A line that lost bytes takes the first ones of the display for its own.
  if (isNewline(bits, end)) doubt(kept, from, end);
  const fresh = new Uint8Array(COLLAPSED_DISPLAY_SIZE + 1).fill(NEWLINE);
  fresh[COLLAPSED_DISPLAY_SIZE] = VARIABLES_END;
  const last = bits[end - 1];
  return [...kept, ...asFresh(madeBefore(fresh, { ...last, start: last.end }))];
}

/** Heard system variables. Nothing shows that those before the end of the printer's buffer are in step. */
function doubted(heard: readonly TapeBit[]): SettledBit[] {
  const row: SettledBit[] = [...heard];
  doubt(row, 0, heard.length - 8 * (HEADER_SIZE - PRINTER_END));
  return row;
}

/** Nothing shows that the bits `from` to `to` are in step. */
function doubt(bits: SettledBit[], from: number, to: number): void {
  for (let i = from; i < to; i++) bits[i] = outOfStep(bits[i]);
}

const outOfStep = (bit: SettledBit): SettledBit => ({ ...bit, chosen: true, recounted: true });

function asFresh(bits: readonly SettledBit[]): SettledBit[] {
  return bits.map((bit) => ({ ...bit, rebuilt: true }));
}

/** The head of a fresh machine with these areas in an image of `size` bytes. */
function headerFor(
  bits: readonly TapeBit[],
  areas: AreaBits & { readonly size: number },
): Uint8Array {
  const address = (at: number) => IMAGE_START + areas.size - (areas.end - at) / 8;
  const number = bytesOfBits(bits.slice(areas.program, areas.program + NUMBER_BITS));
  return plainHeader({
    areas: {
      D_FILE: address(areas.display),
      VARS: address(areas.variables),
      E_LINE: address(areas.end),
    },
    firstLine: numberAt(number, 0),
  });
}

/** Does the printer's buffer end about where it must, if a head begins at this bit? */
function hasPrinter(bits: readonly TapeBit[], head: number): boolean {
  const last = head + 8 * PRINTER_END;
  for (let at = last - PRINTER_SLACK; at <= last + PRINTER_SLACK; at++) {
    if (isNewline(bits, at)) return true;
  }
  return false;
}

const isNewline = (bits: readonly TapeBit[], at: number): boolean =>
  at >= 0 && bytesOfBits(bits.slice(at, at + 8))[0] === NEWLINE;

/** Bytes right before the program that are the end of the system variables, pointers not counted. */
function heardBytes(before: readonly TapeBit[]): number {
  const bytes = bytesOfBits(before, before.length & 7).slice(-HEADER_SIZE);
  const printerEnd = bytes.length - HEADER_SIZE + PRINTER_END;
  // A line that was lost may end just there; but the buffer has no codes of keywords and numbers.
  const columns = PRINTER_END - offsetOf('PRBUFF');
  const buffer = bytes.subarray(Math.max(0, printerEnd - columns), Math.max(0, printerEnd));
  if (bytes[printerEnd] !== NEWLINE || !buffer.every(hasGlyph)) return 0;
  return Math.min(bytes.length, HEADER_SIZE - offsetOf('BERG'));
}

function findAreas(bits: readonly TapeBit[]): AreaBits | undefined {
  const rows = bytesAtShifts(bits);
  for (let shift = 0; shift < 8; shift++) {
    const display = findDisplay(rows[shift], bits.length - shift);
    if (display === undefined) continue;
    const own = longestRun(rows[shift], display.display);
    const bitOf = (at: number) => shift + 8 * at;
    const program = Math.min(
      own.lines > 0 ? bitOf(own.at) : Number.POSITIVE_INFINITY,
      ...rows.map((row, other) => other + 8 * earliestRun(row, display.display)),
    );
    if (program > bitOf(display.display)) continue;
    return {
      program,
      display: bitOf(display.display),
      variables: bitOf(display.variables),
      end: bitOf(display.end),
    };
  }
  return undefined;
}

/** The display, known by its NEWLINEs and by the variables that follow it to the end of the tape. */
function findDisplay(
  bytes: Uint8Array,
  bits: number,
): { display: number; variables: number; end: number } | undefined {
  const newlines: number[] = [];
  for (let at = 0; at < bytes.length; at++) if (bytes[at] === NEWLINE) newlines.push(at);
  const rows = COLLAPSED_DISPLAY_SIZE - 1;
  for (let first = newlines.length - 1 - rows; first > 0; first--) {
    const display = newlines[first];
    const variables = newlines[first + rows] + 1;
    if (bytes[display - 1] !== NEWLINE) continue;
    const isRow = (row: number) =>
      newlines[first + row + 1] - newlines[first + row] <= DISPLAY_COLUMNS + 1;
    if (!Array.from({ length: rows }, (_, row) => isRow(row)).every(Boolean)) continue;
    for (let end = bytes.length; end > variables && bits - 8 * end < STRAY_BITS; end--) {
      if (bytes[end - 1] !== VARIABLES_END) continue;
      if (endOfVariables(bytes, variables, end) === end) return { display, variables, end };
    }
  }
  return undefined;
}

/** The most lines in a row that end where the display begins, and where the first of them is. */
function longestRun(bytes: Uint8Array, display: number): { at: number; lines: number } {
  const lines = new Uint16Array(display + 1);
  let best = { at: display, lines: 0 };
  for (let at = display - 1; at >= 0; at--) {
    const end = lineBefore(bytes, at, display);
    if (end === undefined || (end < display && lines[end] === 0)) continue;
    lines[at] = lines[end] + 1;
    if (lines[at] > best.lines) best = { at, lines: lines[at] };
  }
  return best;
}

/** Where the first row of enough lines begins; infinity if there is none. */
function earliestRun(bytes: Uint8Array, display: number): number {
  for (let at = 0; at < display; at++) if (linesBegin(bytes, at, 0, LINES_ENOUGH)) return at;
  return Number.POSITIVE_INFINITY;
}

/** The last line of the last row of enough lines, if there is one. */
function lastLineOfRun(bytes: Uint8Array): { from: number; to: number } | undefined {
  for (let at = bytes.length - 1; at >= 0; at--) {
    if (!linesBegin(bytes, at, 0, LINES_ENOUGH)) continue;
    let from = at;
    for (let to = at; ; ) {
      const next = endOfNumberedLine(bytes, to);
      if (next === undefined) return { from, to };
      [from, to] = [to, next];
    }
  }
  return undefined;
}
