/** Print and listing side by side, level line against line, with changes and questions marked. */
import { firstIndex } from '../listing/search.js';
import { escapeMarkup } from '../markup/markup.js';
import { sourceOf } from './listing.js';
import type { Note } from './note.js';
import { wordsOf } from './questions.js';
import type { Transcription } from './transcribe.js';

type Role = 'made' | 'ask' | 'out';

interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly role: Role;
  readonly note: number;
  readonly title: string;
}

/** What stands level: rows of the print, and lines of the listing; first and one past the last. */
interface Pair {
  readonly rows: [number, number];
  readonly lines: [number, number];
}

export function* sideBySide(source: string, result: Transcription): Generator<string> {
  const owners = ownersOf(source, result.notes);
  const rows = rowsOf(source);
  const lines = rowsOf(result.text);
  const print = (start: number, end: number): string =>
    marked(source, start, end, (at) => owners[at]);
  const listing = (start: number, end: number): string =>
    marked(result.text, start, end, (at) => {
      const from = sourceOf(result.spans, at);
      const owner = from === undefined ? undefined : owners[from];
      return owner?.role === 'out' ? undefined : owner;
    });
  for (const pair of pairsOf(rows, lines, result)) {
    yield `<div class="pair"><pre>${cell(source, rows, pair.rows, print)}</pre><pre>${cell(result.text, lines, pair.lines, listing)}</pre></div>\n`;
  }
}

function cell(
  text: string,
  starts: readonly number[],
  [first, past]: readonly [number, number],
  show: (start: number, end: number) => string,
): string {
  if (past <= first) return '';
  const start = starts[first];
  const end = past < starts.length ? starts[past] : text.length;
  return show(start, start + text.slice(start, end).trimEnd().length);
}

/** Where each row begins. */
function rowsOf(text: string): number[] {
  const starts = [0];
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
  return starts;
}

/** Lines of the listing with the rows that they came from; a comment goes with what follows it. */
function pairsOf(
  rows: readonly number[],
  lines: readonly number[],
  { spans, text }: Transcription,
): Pair[] {
  const pairs: Pair[] = [];
  let first = 0;
  let done = 0;
  let next = 0;
  const rowOf = (offset: number): number =>
    firstIndex(rows.length, (row) => rows[row] > offset) - 1;
  for (let line = 0; line < lines.length; line++) {
    const end = line + 1 < lines.length ? lines[line + 1] : text.length;
    let from = Number.POSITIVE_INFINITY;
    let past = -1;
    for (; next < spans.length && spans[next].start < end; next++) {
      from = Math.min(from, rowOf(spans[next].from));
      past = Math.max(past, rowOf(Math.max(spans[next].from, spans[next].to - 1)) + 1);
      if (spans[next].end > end) break;
    }
    if (past < 0) continue;
    const last = pairs.at(-1);
    if (last !== undefined && from < done) {
      last.lines[1] = line + 1;
      last.rows[1] = done = Math.max(done, past);
    } else {
      if (from > done) pairs.push({ rows: [done, from], lines: [first, first] });
      pairs.push({ rows: [from, past], lines: [first, line + 1] });
      done = past;
    }
    first = line + 1;
  }
  if (done < rows.length || first < lines.length)
    pairs.push({ rows: [done, rows.length], lines: [first, lines.length] });
  return pairs;
}

/** What marks each character of the source: the smallest stretch, so that a letter shows in its line. */
function ownersOf(source: string, notes: readonly Note[]): (Stretch | undefined)[] {
  const owners = new Array<Stretch | undefined>(source.length).fill(undefined);
  const stretches = notes
    .map((note, index): Stretch => {
      const { kind, made, start, end } = note;
      const role = !made ? 'ask' : kind === 'left-out' ? 'out' : 'made';
      return { start, end, role, note: index, title: wordsOf(note) };
    })
    .filter(({ start, end }, index) => notes[index].kind !== 'joined' && end > start)
    .sort((a, b) => a.end - a.start - (b.end - b.start));
  for (const stretch of stretches) {
    const end = Math.min(stretch.end, source.length);
    for (let at = stretch.start; at < end; at++) owners[at] ??= stretch;
  }
  return owners;
}

function marked(
  text: string,
  start: number,
  end: number,
  owner: (offset: number) => Stretch | undefined,
): string {
  let html = '';
  for (let from = start; from < end; ) {
    const stretch = owner(from);
    let to = from + 1;
    while (to < end && owner(to) === stretch) to++;
    const piece = escapeMarkup(text.slice(from, to));
    html +=
      stretch === undefined
        ? piece.replace(/^&#39;.*$/gm, (line) => `<span class="comment">${line}</span>`)
        : `<mark class="${stretch.role}" data-note="${stretch.note}" title="${escapeMarkup(stretch.title)}">${piece}</mark>`;
    from = to;
  }
  return html;
}
