/** A sound or a program that cannot be worked on: what is wrong, and what to do about it. */
export class SoundError extends Error {
  constructor(
    message: string,
    /** What the person can do, when there is something. */
    readonly help?: string,
  ) {
    super(message);
    this.name = 'SoundError';
  }
}

/** Of a file that is not as it must be: whatever shows it can save its sound in the plainest form. */
export const badSound = (message: string): SoundError =>
  new SoundError(message, 'save the sound again as WAV with plain 16-bit samples');
