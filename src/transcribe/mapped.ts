/** Text of which every character knows where in the source it came from. */

export class Mapped {
  private constructor(
    readonly text: string,
    /** Offset into the source for every character. */
    readonly from: readonly number[],
  ) {}

  /** A piece of the source itself. */
  static source(text: string, start: number): Mapped {
    return new Mapped(
      text,
      Array.from({ length: text.length }, (_, index) => start + index),
    );
  }

  /** New text that stands for the source at one offset. */
  static made(text: string, at: number): Mapped {
    return new Mapped(text, new Array<number>(text.length).fill(at));
  }

  get length(): number {
    return this.text.length;
  }

  slice(start: number, end = this.length): Mapped {
    return new Mapped(this.text.slice(start, end), this.from.slice(start, end));
  }

  concat(...others: readonly Mapped[]): Mapped {
    const all = [this, ...others];
    return new Mapped(
      all.map((one) => one.text).join(''),
      all.flatMap((one) => one.from),
    );
  }

  trimEnd(): Mapped {
    return this.slice(0, this.text.trimEnd().length);
  }

  /** Where the source of this position begins; one past the last for a position at the end. */
  sourceOf(at: number): number {
    if (at < this.from.length) return this.from[at];
    return this.from.length === 0 ? 0 : this.from[this.from.length - 1] + 1;
  }

  /** With `start` to `end` replaced; the new characters come from where the old ones stood. */
  replace(start: number, end: number, text: string): Mapped {
    const old = this.text.slice(start, end);
    if (old === text) return this;
    // What the two share at either end keeps its own places.
    let head = 0;
    while (head < old.length && head < text.length && old[head] === text[head]) head++;
    let tail = 0;
    while (
      tail < old.length - head &&
      tail < text.length - head &&
      old[old.length - 1 - tail] === text[text.length - 1 - tail]
    ) {
      tail++;
    }
    const from = start + head;
    const to = end - tail;
    const middle = text.slice(head, text.length - tail);
    const places =
      middle.length === to - from
        ? new Mapped(middle, this.from.slice(from, to))
        : Mapped.made(middle, this.sourceOf(from));
    return this.slice(0, from).concat(places, this.slice(to));
  }
}
