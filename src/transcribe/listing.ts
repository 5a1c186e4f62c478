/** A page that was worked on, as the listing: its lines, and comments with what was changed or is asked. */
import { firstIndex } from '../listing/search.js';
import { visibleLine } from '../markup/visible.js';
import { found, type Note } from './note.js';
import type { Mapped } from './page/mapped.js';
import { wordsOf } from './questions.js';
import { isLine, type Work, type WorkLine } from './work.js';

/** A stretch of the listing, and the stretch of the source that it came from. */
export interface SourceSpan {
  /** Offsets into the listing, first and one past the last. */
  readonly start: number;
  readonly end: number;
  /** Offsets into the source, likewise; where both are as long, character stands for character. */
  readonly from: number;
  readonly to: number;
}

export interface Assembled {
  readonly text: string;
  readonly spans: readonly SourceSpan[];
  readonly notes: readonly Note[];
}

export function assemble(work: Work, comments: boolean): Assembled {
  const text = new Pieces();
  const notes: Note[] = [];
  for (const item of work.items) {
    if (isLine(item)) {
      putLine(item, comments, text);
      for (const note of item.notes) notes.push(note);
    } else if (item.kind === 'gone') {
      putComments(item.line, comments, text);
      for (const note of item.line.notes) notes.push(note);
    } else if (item.kind === 'other') {
      text.put(item.body.text, item.body.from);
      text.put('\n');
    } else {
      const { body, certainty, why } = item;
      const more = { kind: 'left-out', certainty, why } as const;
      const note = work.noteOf({
        ...found(body, 0, body.length, '', more),
        from: body.text.trim(),
      });
      notes.push(note);
      putNoise(note, body, comments, text);
    }
  }
  notes.sort((a, b) => a.start - b.start || a.end - b.end);
  return { text: text.whole, spans: text.spans, notes };
}

/** Where a character of the listing came from; undefined for what is new. */
export function sourceOf(spans: readonly SourceSpan[], offset: number): number | undefined {
  const span = spans[firstIndex(spans.length, (index) => spans[index].end > offset)];
  if (span === undefined || span.start > offset) return undefined;
  return Math.min(span.from + offset - span.start, Math.max(span.from, span.to - 1));
}

/** Text put together, with the spans of what came from the source. */
class Pieces {
  private readonly pieces: string[] = [];
  readonly spans: SourceSpan[] = [];
  private length = 0;

  put(text: string, places?: readonly number[]): void {
    this.pieces.push(text);
    if (places !== undefined) this.addSpans(text.length, places);
    this.length += text.length;
  }

  private addSpans(length: number, places: readonly number[]): void {
    for (let at = 0; at < length; ) {
      const from = places[at];
      let end = at + 1;
      // Either every character has the next place, or all of them have the same.
      const step = end < length && places[end] === from ? 0 : 1;
      while (end < length && places[end] === places[end - 1] + step) end++;
      // What follows a made stretch has a place of its own that is the same.
      const to = step === 0 ? from + 1 : from + end - at;
      this.spans.push({ start: this.length + at, end: this.length + end, from, to });
      at = end;
    }
  }

  get whole(): string {
    return this.pieces.join('');
  }
}

function putComments({ number, notes }: WorkLine, comments: boolean, text: Pieces): void {
  const made = notes.filter((note) => note.made);
  const asked = notes.filter((note) => !note.made);
  if (comments && made.length > 0)
    text.put(`' ${number}: ${visibleLine(made.map(wordsOf).join('; '))}\n`);
  if (comments) for (const note of asked) text.put(`' ${number}? ${visibleLine(wordsOf(note))}\n`);
}

function putLine(line: WorkLine, comments: boolean, text: Pieces): void {
  const { page, body, number } = line;
  putComments(line, comments, text);
  const isFirst = number === page.number;
  const places = Array.from({ length: String(number).length }, (_, at) =>
    isFirst ? page.start + Math.min(at, page.printedNumber.length - 1) : page.start,
  );
  text.put(String(number), places);
  text.put(' ');
  text.put(body.text, body.from);
  text.put('\n');
}

function putNoise(
  { made, why, certainty }: Note,
  body: Mapped,
  comments: boolean,
  text: Pieces,
): void {
  // What may be a part of the program is kept, as a comment of the editor, and asked about.
  if (made && !comments) return;
  const shown = body.trimmed();
  text.put(made ? "' left out: " : "' ? not read: ");
  text.put(shown.text, shown.from);
  text.put(made ? ` (${why}, ${certainty.toFixed(2)})\n` : '\n');
}
