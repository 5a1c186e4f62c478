/** The bytes of a program as they go on tape. Source: machine.md, "Tape signal" and "Words". */
import { IMAGE_START } from '../machine/memory-map.js';
import { addressOf } from '../machine/system-variables.js';
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

/** A system variable of two bytes in an image, low byte first. The image must reach that far. */
export function pointerIn(image: Uint8Array, name: string): number {
  const offset = addressOf(name) - IMAGE_START;
  return image[offset] + 256 * image[offset + 1];
}

/** Bytes of an image that must be read before E_LINE is known. */
export const HEAD_SIZE = addressOf('E_LINE') + 2 - IMAGE_START;

/** How many bytes the image says that it has, by its own E_LINE; undefined if cut before that. */
export function statedLength(image: Uint8Array): number | undefined {
  if (image.length < HEAD_SIZE) return undefined;
  return pointerIn(image, 'E_LINE') - IMAGE_START;
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
