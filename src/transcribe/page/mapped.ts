/** Text of which every character knows where in the source it came from. */
import type { Span } from '../../../grammar/tree.js';
import type { Edit } from '../../listing/edits.js';

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

  static joined(parts: readonly Mapped[]): Mapped {
    return new Mapped(
      parts.map(({ text }) => text).join(''),
      parts.flatMap(({ from }) => from),
    );
  }

  get length(): number {
    return this.text.length;
  }

  slice(start: number, end = this.length): Mapped {
    return new Mapped(this.text.slice(start, end), this.from.slice(start, end));
  }

  concat(...others: readonly Mapped[]): Mapped {
    return Mapped.joined([this, ...others]);
  }

  trimEnd(): Mapped {
    const { length } = this.text.trimEnd();
    return length === this.length ? this : this.slice(0, length);
  }

  /** Without the white space at either end. */
  trimmed(): Mapped {
    const { length } = this.text.trimStart();
    return (length === this.length ? this : this.slice(this.length - length)).trimEnd();
  }

  /** Where the source of this position begins; one past the last for a position at the end. */
  sourceOf(at: number): number {
    if (at < this.from.length) return this.from[at];
    return this.from.length === 0 ? 0 : this.from[this.from.length - 1] + 1;
  }

  /** The stretch of the source that a stretch of the text came from. */
  spanOf(start: number, end: number): Span {
    const first = this.sourceOf(start);
    return { start: first, end: end > start ? this.sourceOf(end - 1) + 1 : first };
  }

  /** With `start` to `end` replaced; the new characters come from where the old ones stood. */
  replace(start: number, end: number, text: string): Mapped {
    return this.edited([{ start, end, text }]);
  }

  /** With all of these replaced, which stand in the order of the text and do not overlap. */
  edited(edits: readonly Edit[]): Mapped {
    const parts: string[] = [];
    const from: number[] = [];
    let done = 0;
    const keep = (end: number): void => {
      parts.push(this.text.slice(done, end));
      for (; done < end; done++) from.push(this.from[done]);
    };
    for (const edit of edits) {
      const { start, end, text } = this.core(edit);
      keep(start);
      parts.push(text);
      const oneForOne = text.length === end - start;
      const place = this.sourceOf(start);
      for (let at = 0; at < text.length; at++) {
        from.push(oneForOne ? this.from[start + at] : place);
      }
      done = end;
    }
    keep(this.length);
    return edits.length === 0 ? this : new Mapped(parts.join(''), from);
  }

  /** An edit without what old and new text share at either end: that keeps its own places. */
  private core({ start, end, text }: Edit): Edit {
    const old = this.text.slice(start, end);
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
    return { start: start + head, end: end - tail, text: text.slice(head, text.length - tail) };
  }
}
