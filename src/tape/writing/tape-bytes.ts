/** The bytes of a program as they go on tape. Source: src/machine/tape-signal.ts. */
import { statedLength } from '../../machine/image-layout.js';
import { NAME_END } from '../../machine/tape-signal.js';
import { SoundError } from '../sound-error.js';

/** A program to be recorded. */
export interface TapeProgram {
  /** Machine codes of the name, each below 128; bit 7 of the last is set on tape only. */
  readonly name: Uint8Array;
  /** Memory from 16393 up to, not including, the address in E_LINE. */
  readonly image: Uint8Array;
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
