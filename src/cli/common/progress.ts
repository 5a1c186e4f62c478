/** A progress bar on standard error, for work that takes a while. Only where a person sees it. */
import { counter } from './show.js';

const WIDTH = 30;
/** Milliseconds between two drawings; work that is done sooner shows none. */
const PAUSE = 100;
/** From what part of the work on the time so far tells how long the rest takes. */
const FIRST_RECKONED = 0.01;

/** `[####....]`: a part of a whole, 0 to 1. */
export function bar(part: number, width: number): string {
  const full = Math.round(width * Math.min(1, part));
  return `[${'#'.repeat(full)}${'.'.repeat(width - full)}]`;
}

export class Progress {
  private readonly begun = Date.now();
  private drawn = 0;
  private shown = false;

  /** @param what stands before the bar */
  constructor(
    private readonly what: string,
    private readonly stream: NodeJS.WriteStream = process.stderr,
  ) {}

  /**
   * @param part of the work that is done, 0 to 1
   * @param secondsLeft where it is known; else it is reckoned from the time so far
   */
  show(part: number, secondsLeft?: number): void {
    const now = Date.now();
    if (!this.stream.isTTY || now - this.begun < 3 * PAUSE || now - this.drawn < PAUSE) return;
    this.drawn = now;
    this.shown = true;
    const left =
      secondsLeft ??
      (part < FIRST_RECKONED ? undefined : ((now - this.begun) / 1000) * (1 / part - 1));
    const words = left === undefined ? '' : `${counter(left)} left `;
    this.stream.write(`\r${this.what} ${bar(part, WIDTH)} ${words}`);
  }

  /** Takes the bar away. */
  end(): void {
    if (this.shown) this.stream.write(`\r${' '.repeat(this.what.length + WIDTH + 24)}\r`);
    this.shown = false;
  }
}

/** Runs what takes a while with a bar of its own, which is taken away in the end. */
export function withProgress<Result>(
  what: string,
  run: (show: (part: number) => void) => Result,
): Result {
  const progress = new Progress(what);
  try {
    return run((part) => progress.show(part));
  } finally {
    progress.end();
  }
}
