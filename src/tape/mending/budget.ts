/**
 * How much work may be put into what is unclear. It follows from how long the recording plays, and is
 * counted in bytes that are gone through, so the same recording is always read in the same way.
 */

/** Bytes gone through for each second of a recording: some 30 ms of work. */
const BYTES_A_SECOND = 6e6;
export class Budget {
  private left: number;
  /** Something was left undone for want of it. */
  overdrawn = false;

  constructor(bytes: number) {
    this.left = bytes;
  }

  /** What a stretch of so many seconds may cost, on one of so many sounds that are read at once. */
  static ofSeconds(seconds: number, sounds = 1): Budget {
    return new Budget((seconds * BYTES_A_SECOND) / sounds);
  }

  /** A part of what is left, for one task. */
  part(share: number): number {
    return Math.max(0, this.left * share);
  }

  spend(bytes: number): void {
    this.left -= bytes;
  }

  /** Is there nothing left? Then what asks leaves something undone. */
  isSpent(): boolean {
    if (this.left > 0) return false;
    this.overdrawn = true;
    return true;
  }
}
