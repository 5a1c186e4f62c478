/** The bytes of a program as they go on tape. Source: machine.md, "Tape signal" and "Words". */
import { offsetOf, wordAt } from '../machine/image-layout.js';
import { IMAGE_START } from '../machine/memory-map.js';
import { SoundError } from './sound-error.js';

/** A program to be recorded. */
export interface TapeProgram {
  /** Machine codes of the name, each below 128; bit 7 of the last is set on tape only. */
  readonly name: Uint8Array;
  /** Memory from 16393 up to, not including, the address in E_LINE. */
  readonly image: Uint8Array;
}

/** Set on the last character of the name. */
export const NAME_END = 0x80;

/** Bytes of an image that must be read before E_LINE is known. */
export const HEAD_SIZE = offsetOf('E_LINE') + 2;

/** The whole bytes of a row of bits, from bit `from` on, high bit first. */
export function bytesOfBits(bits: readonly { readonly bit: 0 | 1 }[], from = 0): Uint8Array {
  const bytes = new Uint8Array(Math.max(0, bits.length - from) >> 3);
  for (let i = 0; i < 8 * bytes.length; i++) {
    if (bits[from + i].bit) bytes[i >> 3] |= 128 >> (i & 7);
  }
  return bytes;
}

/** The same for bytes that begin at bits 0, 8, 16 …, at 1, 9, 17 … and so on: eight rows. */
export function bytesAtShifts(bits: readonly { readonly bit: 0 | 1 }[]): Uint8Array[] {
  return Array.from({ length: 8 }, (_, shift) => bytesOfBits(bits, shift));
}

/** What of the bytes on tape follows the name: nothing if no name ends in them. */
export function imageOfTape(bytes: Uint8Array): Uint8Array {
  const last = bytes.findIndex((byte) => byte >= NAME_END);
  return bytes.subarray(last < 0 ? bytes.length : last + 1);
}

/** How many bytes the image says that it has, by its own E_LINE; undefined if cut before that. */
export function statedLength(image: Uint8Array): number | undefined {
  if (image.length < HEAD_SIZE) return undefined;
  return wordAt(image, offsetOf('E_LINE')) - IMAGE_START;
}

/**
 * The bytes on tape: the name, bit 7 set on its last character, then the image.
 * Throws SoundError for a name or an image that the machine could not load.
 */
export function tapeBytes({ name, image }: TapeProgram): Uint8Array {
  if (name.length === 0) {
    throw new SoundError(
      'the program has no name, and the machine does not save without one',
      'give one with .name in the listing or with --name',
    );
  }
  const wrong = name.findIndex((code) => code >= NAME_END);
  if (wrong >= 0) {
    throw new SoundError(
      `character ${wrong + 1} of the name has code ${name[wrong]}; bit 7 would end the name there`,
      'use characters with codes below 128',
    );
  }
  const stated = statedLength(image);
  if (stated !== image.length) {
    throw new SoundError(
      stated === undefined
        ? `the image has only ${image.length} bytes: too short to hold E_LINE`
        : `the image has ${image.length} bytes, and its E_LINE asks for ${stated}: the machine would not know where the tape ends`,
      'the image is damaged or not an image; build it again from its listing',
    );
  }
  const bytes = new Uint8Array(name.length + image.length);
  bytes.set(name);
  bytes[name.length - 1] |= NAME_END;
  bytes.set(image, name.length);
  return bytes;
}
