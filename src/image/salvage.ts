/** Images whose header is wrong or cut short, made readable. */

import { count } from '../listing/print.js';
import {
  endOfLine,
  HEADER_SIZE,
  offsetOf,
  plainHeader,
  setWord,
  wordAt,
} from '../machine/image-layout.js';
import { HIGHEST_ADDRESS, IMAGE_START, PROGRAM_START } from '../machine/memory-map.js';
import { looksLikeImage } from './areas.js';

export interface Salvaged {
  /** An image with a readable header. */
  readonly image: Uint8Array;
  /** What was changed to make it so, in words for a person. */
  readonly remarks: readonly string[];
}

/**
 * An image made readable: what is missing of the header is filled with a plain build's bytes,
 * pointers that make no sense are put where the bytes themselves say. Never throws.
 */
export function salvage(bytes: Uint8Array): Salvaged {
  if (looksLikeImage(bytes)) return { image: bytes, remarks: [] };
  const remarks: string[] = [];
  const image = withHeader(bytes.subarray(0, HIGHEST_ADDRESS - IMAGE_START), remarks);
  const left = bytes.length - image.length;
  if (left > 0) remarks.push(`${count(left, 'byte')} past the end of all memory left out`);
  const end = IMAGE_START + image.length;
  const between = (name: string, least: number, otherwise: number): number => {
    const value = wordAt(image, offsetOf(name));
    if (value >= least && value <= end) return value;
    remarks.push(`${name} is ${value}, which makes no sense here, and was taken as ${otherwise}`);
    return otherwise;
  };
  const D_FILE = between('D_FILE', PROGRAM_START, programEnd(image));
  const VARS = between('VARS', D_FILE, end);
  const E_LINE = between('E_LINE', VARS, end);
  for (const [name, value] of Object.entries({ D_FILE, VARS, E_LINE })) {
    setWord(image, offsetOf(name), value);
  }
  return { image, remarks };
}

/** A copy of the bytes, with the header filled up where it is cut short. */
function withHeader(bytes: Uint8Array, remarks: string[]): Uint8Array {
  if (bytes.length >= HEADER_SIZE) return Uint8Array.from(bytes);
  const areas = { D_FILE: PROGRAM_START, VARS: PROGRAM_START, E_LINE: PROGRAM_START };
  const image = plainHeader({ areas });
  image.set(bytes);
  const missing = HEADER_SIZE - bytes.length;
  remarks.push(
    `${count(missing, 'byte')} of the system variables ${missing === 1 ? 'is missing and was' : 'are missing and were'} filled in`,
  );
  return image;
}

/** The address to which the lines lead from the start of the program. */
function programEnd(image: Uint8Array): number {
  let at = HEADER_SIZE;
  for (;;) {
    const next = endOfLine(image, at, image.length);
    if (next === undefined) return IMAGE_START + at;
    at = next;
  }
}
