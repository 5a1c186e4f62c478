/** What stands where in a program image, and the system variables of a fresh machine that saves. */
import { NEWLINE } from './characters.js';
import {
  DISPLAY_COLUMNS,
  DISPLAY_ROWS,
  hasFullDisplay,
  IMAGE_START,
  PROGRAM_START,
} from './memory-map.js';
import { addressOf, MARGIN_OF_FRAMES, systemVariable } from './system-variables.js';

/** The system variables that point at the areas after the program. */
export type AreaPointer = 'D_FILE' | 'VARS' | 'E_LINE';
/** First addresses of the areas that follow the program. */
export type AreaAddresses = Readonly<Record<AreaPointer, number>>;

export const HEADER_SIZE = PROGRAM_START - IMAGE_START;
/** Bytes of a program line before its text: number, high byte first, and length, low byte first. */
export const LINE_HEAD = 4;
/** Bytes of a program line besides its text: its head, and NEWLINE. */
export const LINE_FRAME = LINE_HEAD + 1;
/** Bytes of a program line, `size` of them its text. */
export const lineSize = ({ size }: { readonly size: number }): number => LINE_FRAME + size;
export const DEFAULT_FRAMES_PER_SECOND = 50;

export interface HeaderFacts {
  readonly areas: AreaAddresses;
  /** Number of the first line; undefined in an empty program. */
  readonly firstLine?: number;
  /** Address of the line to run once loaded, or undefined to wait. */
  readonly startAddress?: number;
  readonly framesPerSecond?: number;
}

/** Offset of a system variable in an image. */
export const offsetOf = (name: string): number => addressOf(name) - IMAGE_START;

/** Two bytes, low byte first. */
export function wordAt(bytes: Uint8Array, at: number): number {
  return bytes[at] | (bytes[at + 1] << 8);
}

export function setWord(bytes: Uint8Array, at: number, value: number): void {
  bytes[at] = value & 255;
  bytes[at + 1] = (value >> 8) & 255;
}

/** The number of the line at `at`: two bytes, high byte first. */
export const numberAt = (image: Uint8Array, at: number): number => (image[at] << 8) | image[at + 1];

/** Bytes of an image that must be there before its E_LINE is known. */
export const HEAD_SIZE = offsetOf('E_LINE') + 2;

/** How many bytes the image says that it has, by its own E_LINE; undefined if cut before that. */
export function statedLength(image: Uint8Array): number | undefined {
  if (image.length < HEAD_SIZE) return undefined;
  return wordAt(image, offsetOf('E_LINE')) - IMAGE_START;
}

/**
 * The first 116 bytes of an image: the system variables from VERSN on, with sane values (common
 * practice). What that leaves open is 0, but for FRAMES and the debounce byte, which a machine at
 * rest has at their highest.
 */
export function plainHeader({
  areas: { D_FILE, VARS, E_LINE },
  firstLine = 0,
  startAddress = D_FILE,
  framesPerSecond = DEFAULT_FRAMES_PER_SECOND,
}: HeaderFacts): Uint8Array {
  const header = new Uint8Array(HEADER_SIZE);
  const words: Record<string, number> = {
    D_FILE,
    VARS,
    E_LINE,
    DF_CC: D_FILE + 1,
    CH_ADD: E_LINE + 1,
    STKBOT: E_LINE + 1,
    STKEND: E_LINE + 1,
    MEM: addressOf('MEMBOT'),
    S_TOP: firstLine,
    LAST_K: 0xffff,
    NXTLIN: startAddress,
    T_ADDR: 3213,
    FRAMES: 0xffff,
  };
  for (const [name, value] of Object.entries(words)) setWord(header, offsetOf(name), value);
  header[offsetOf('DF_SZ')] = 2;
  header[offsetOf('DEBOUNCE')] = 255;
  header[offsetOf('MARGIN')] = MARGIN_OF_FRAMES.get(framesPerSecond)!;
  header[offsetOf('PR_CC')] = 188;
  header[offsetOf('S_POSN')] = DISPLAY_COLUMNS + 1;
  header[offsetOf('S_POSN') + 1] = DISPLAY_ROWS;
  header[offsetOf('CDFLAG')] = 64;
  const printer = systemVariable('PRBUFF')!;
  header[offsetOf('PRBUFF') + printer.size - 1] = NEWLINE;
  return header;
}

/**
 * The bytes of a display with these rows from the top: each as long as it is, or 32 columns on a
 * machine with 3¼K or more.
 */
export function displayBytes(rows: readonly Uint8Array[], ram: number): Uint8Array {
  const codesOf = (row: number): Uint8Array => rows[row] ?? NO_CODES;
  const isFull = hasFullDisplay(ram);
  let size = 1 + DISPLAY_ROWS;
  for (let row = 0; row < DISPLAY_ROWS; row++) {
    size += isFull ? DISPLAY_COLUMNS : codesOf(row).length;
  }
  const bytes = new Uint8Array(size);
  bytes[0] = NEWLINE;
  let at = 1;
  for (let row = 0; row < DISPLAY_ROWS; row++) {
    const codes = codesOf(row);
    bytes.set(codes, at);
    at += isFull ? DISPLAY_COLUMNS : codes.length;
    bytes[at++] = NEWLINE;
  }
  return bytes;
}

const NO_CODES = new Uint8Array(0);

/** Where the line at `at` ends by its own length, or undefined where that cannot be true. */
export function endOfLine(image: Uint8Array, at: number, limit: number): number | undefined {
  const end = at + LINE_HEAD + wordAt(image, at + 2);
  return end > at + LINE_HEAD && end <= limit && image[end - 1] === NEWLINE ? end : undefined;
}
