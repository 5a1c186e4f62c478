/** Whether a listing fits the RAM, where that is not the command's own question. */

import type { Diagnostic, Source } from '../listing/diagnostics.js';
import { offsetOf, wordAt } from '../machine/image-layout.js';
import { IMAGE_START, RAM_START } from '../machine/memory-map.js';
import { ramText } from '../machine/ram-size.js';
import { type InputOptions, type Program, programOfText } from './input.js';
import { tell } from './io.js';
import { count } from './show.js';

/** The rule under which the build says that a program is larger than the RAM. */
export const NO_ROOM = 'no-room';

export interface Room {
  readonly source: Source;
  /** What the build says of a listing that is too large; undefined where it fits. */
  readonly missing?: Diagnostic;
  /** Has it an image? Else nothing is known of its size, or it is too large. */
  readonly built: boolean;
}

/** Builds a listing that stands, or will stand, at a path, for `options.ram` or its own RAM. */
export function roomFor(path: string, text: string, options: InputOptions): Room {
  const { source, diagnostics, image } = programOfText(path, text, options);
  const missing = diagnostics.find(({ rule }) => rule === NO_ROOM);
  return { source, missing, built: image !== undefined };
}

/** How many bytes of an image, which ends where it says or earlier, are above the top of the RAM. */
export function bytesAbove(image: Uint8Array, ram = Number.POSITIVE_INFINITY): number {
  const end = Math.min(wordAt(image, offsetOf('E_LINE')), IMAGE_START + image.length);
  return Math.max(0, end - (RAM_START + ram));
}

/**
 * Tells that an image, or that of a recording, is larger than the RAM that was asked for. Of a
 * listing the build has told.
 */
export function tellTooLarge({ kind, source, image }: Program, ram?: number): boolean {
  if (kind === 'listing' || image === undefined || ram === undefined) return false;
  const above = bytesAbove(image, ram);
  if (above === 0) return false;
  tell(
    `${source.name}: error: the image does not fit ${ramText(ram)}: it ends ${count(above, 'byte')} above that`,
  );
  tell('  do:  give --ram the size that is fitted; `listwright fit` shows where the bytes go');
  return true;
}
