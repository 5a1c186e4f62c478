/** The time that a rehearsal has come to: T-states of the machine's processor, counted and not measured. */
import { CLOCK_HZ } from '../../machine/clock.js';
import { frameTimes } from '../../machine/timing.js';

export class Clock {
  /** T-states since the start, those of the picture among them. */
  now = 0;
  /** T-states that go by while the program has one: about four in SLOW. */
  pace: number;
  /** T-states of a frame. */
  readonly frameLength: number;
  private readonly slowPace: number;

  /** @param margin the system variable MARGIN, by which a frame is long */
  constructor(margin: number) {
    const { frame, left } = frameTimes(margin);
    this.frameLength = frame;
    this.slowPace = frame / left;
    this.pace = this.slowPace;
  }

  /** Lets the program's own work go by. */
  spend(time: number): void {
    this.now += time * this.pace;
  }

  setSlow(slow: boolean): void {
    this.pace = slow ? this.slowPace : 1;
  }

  get isSlow(): boolean {
    return this.pace !== 1;
  }

  get frame(): number {
    return Math.floor(this.now / this.frameLength);
  }

  get seconds(): number {
    return this.now / CLOCK_HZ;
  }
}
