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
