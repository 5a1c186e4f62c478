/** A file of sound that was cut short: it ends before it says. */
import { SoundError } from '../sound-error.js';

/**
 * Notes that a file ends early.
 * @param partial is what there is asked for? Throws SoundError where it is not.
 */
export function cutShort(message: string, partial: boolean, notes: string[]): void {
  if (!partial) {
    throw new SoundError(
      message,
      'copy the file again if it was cut short; --partial reads what is there',
    );
  }
  notes.push(`${message}; what is there was read`);
}
