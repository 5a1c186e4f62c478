/** Whether a listing fits the RAM, where that is not the command's own question. */
import type { Diagnostic, Source } from '../listing/diagnostics.js';
import { type InputOptions, programOfText } from './input.js';

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
