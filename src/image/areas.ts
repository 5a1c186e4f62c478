/** Where things stand in an image, by its own pointers and lengths. */
import { count } from '../listing/print.js';
import { NEWLINE } from '../machine/characters.js';
import {
  type AreaAddresses,
  type AreaPointer,
  endOfLine,
  HEADER_SIZE,
  LINE_HEAD,
  numberAt,
  offsetOf,
  wordAt,
} from '../machine/image-layout.js';
import { HIGHEST_LINE, IMAGE_START, LOWEST_LINE, PROGRAM_START } from '../machine/memory-map.js';
import { MOST_PROGRAM_BYTES } from '../machine/program-limits.js';

/** These bytes are not a program image. */
export class NotAnImage extends Error {
  constructor(
    message: string,
    readonly why: string,
    readonly help: string,
  ) {
    super(message);
  }
}

/** The areas that an image's own pointers give. Throws NotAnImage where they make no sense. */
export function areasOf(image: Uint8Array): AreaAddresses {
  if (image.length < HEADER_SIZE) {
    throw new NotAnImage(
      `it has ${count(image.length, 'byte')}, and the system variables alone take ${HEADER_SIZE}`,
      'a program image begins with the system variables from address 16393 on',
      'check that this is an image, and that it is all there; --salvage reads what there is',
    );
  }
  if (image.length > MOST_PROGRAM_BYTES) {
    throw new NotAnImage(
      `it has more than ${MOST_PROGRAM_BYTES} bytes`,
      'there are no more addresses, and what may follow the end of a program is short',
      'check that this is an image',
    );
  }
  const areas = {
    D_FILE: wordAt(image, offsetOf('D_FILE')),
    VARS: wordAt(image, offsetOf('VARS')),
    E_LINE: wordAt(image, offsetOf('E_LINE')),
  };
  const end = IMAGE_START + image.length;
  if (
    !(PROGRAM_START <= areas.D_FILE && areas.D_FILE <= areas.VARS && areas.VARS <= areas.E_LINE)
  ) {
    throw new NotAnImage(
      `its pointers make no sense: D_FILE ${areas.D_FILE}, VARS ${areas.VARS}, E_LINE ${areas.E_LINE}`,
      `the program begins at ${PROGRAM_START}, and D_FILE, VARS and E_LINE follow in that order`,
      'check that this is an image; --salvage reads it as far as it makes sense',
    );
  }
  if (areas.E_LINE > end) {
    throw new NotAnImage(
      `it is cut short: ${image.length} bytes are there, and its own E_LINE says ${areas.E_LINE - IMAGE_START}`,
      `E_LINE is ${areas.E_LINE}, and the bytes end at ${end}`,
      'record or copy it again; --salvage reads what there is',
    );
  }
  return areas;
}

/** Could these bytes be a program image? */
export function looksLikeImage(bytes: Uint8Array): boolean {
  try {
    areasOf(bytes);
    return true;
  } catch (error) {
    if (error instanceof NotAnImage) return false;
    throw error;
  }
}

/** The bytes from one area's first address up to another's. */
export function areaBytes(
  image: Uint8Array,
  areas: AreaAddresses,
  from: AreaPointer,
  to: AreaPointer,
): Uint8Array {
  return image.subarray(areas[from] - IMAGE_START, areas[to] - IMAGE_START);
}

/** A part of the program area: a line, or bytes that are no line. */
export interface ProgramPiece {
  /** Undefined for bytes that are no line. */
  readonly number?: number;
  /** Offset in the image of its first byte, and of the byte after its last. */
  readonly start: number;
  readonly end: number;
}

export interface StoredLine extends ProgramPiece {
  readonly number: number;
}

export const isStoredLine = (piece: ProgramPiece): piece is StoredLine =>
  piece.number !== undefined;

/** The text of a line, without its NEWLINE. */
export function lineCodes(image: Uint8Array, { start, end }: ProgramPiece): Uint8Array {
  return image.subarray(start + LINE_HEAD, end - 1);
}

/**
 * The lines of the program area, which ends at offset `end`. Where a length cannot be true, the
 * bytes up to the next place from which lines lead to the very end are a piece of their own.
 */
export function programPieces(image: Uint8Array, end: number): ProgramPiece[] {
  const pieces: ProgramPiece[] = [];
  for (let at = HEADER_SIZE; at < end; ) {
    const start = at;
    const next = endOfLine(image, at, end);
    if (next === undefined) {
      at = soundPlace(image, start, end);
      pieces.push({ start, end: at });
    } else {
      at = next;
      pieces.push({ number: numberAt(image, start), start, end: next });
    }
  }
  return pieces;
}

/** The place after `start` from which lines lead to `end`: after a NEWLINE if there is such a one. */
function soundPlace(image: Uint8Array, start: number, end: number): number {
  const sound = soundPlaces(image, start, end);
  let first = end;
  for (let at = end; at > start; at--) if (sound[at - start] === 1) first = at;
  for (let at = first; at < end; at++) {
    if (sound[at - start] === 1 && image[at - 1] === NEWLINE) return at;
  }
  return first;
}

/** For each offset from `start`: do lines with numbers that can be typed lead from it to the end? */
function soundPlaces(image: Uint8Array, start: number, end: number): Uint8Array {
  const sound = new Uint8Array(end - start + 1);
  sound[end - start] = 1;
  for (let at = end - LINE_HEAD - 1; at >= start; at--) {
    const next = endOfLine(image, at, end);
    if (next === undefined || sound[next - start] === 0) continue;
    const number = numberAt(image, at);
    if (number >= LOWEST_LINE && number <= HIGHEST_LINE) sound[at - start] = 1;
  }
  return sound;
}
