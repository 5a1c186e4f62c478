/** Holds a transcription against the listing that it came from, line by line. */
import { readListing } from '../../src/listing/read.js';
import { textSpans } from '../../src/transcribe/page/text-spans.js';
import type { Transcription } from '../../src/transcribe/transcribe.js';

export interface Score {
  lines: number;
  /** The machine would store the same bytes. */
  exact: number;
  /** Of those, lines that a question stands against though they are right. */
  askedThoughRight: number;
  /** Not the same, with a question at the line. */
  questions: number;
  /** Not the same, no question: within a string or REM, but marked as changed there. */
  markedText: number;
  /** Not the same, no question, in a string or REM only. */
  silentText: number;
  /** Not the same, no question, outside strings and REM: what must not happen. */
  silent: number;
}

export const emptyScore = (): Score => ({
  lines: 0,
  exact: 0,
  askedThoughRight: 0,
  questions: 0,
  markedText: 0,
  silentText: 0,
  silent: 0,
});

function storedLines(text: string): Map<number, { codes: string; text: string }> {
  const lines = new Map<number, { codes: string; text: string }>();
  for (const line of readListing(text).listing.lines) {
    const source = text.slice(line.start, line.end).replace(/^\s*\d+\s*/, '');
    lines.set(line.number, { codes: line.codes.join(','), text: source });
  }
  return lines;
}

/** A statement without its strings' and REM's text, in codes. */
function skeleton(text: string): string {
  let bare = '';
  for (const { start, end, isText } of textSpans(text))
    bare += isText ? '' : text.slice(start, end);
  const { listing } = readListing(`1 ${bare}\n`);
  return listing.lines[0]?.codes.join(',') ?? bare;
}

export interface Wrong {
  readonly kind: keyof Score;
  readonly number: number;
  readonly meant: string;
  readonly got: string;
}

/** Adds a transcription's lines to a score; gives the lines that are not as they were. */
export function addScore(score: Score, original: string, result: Transcription): Wrong[] {
  const meant = storedLines(original);
  const got = storedLines(result.text);
  const asked = new Set(result.notes.filter(({ made }) => !made).map(({ line }) => line));
  const inText = new Set(
    result.notes
      .filter(({ kind }) => kind === 'text' || kind === 'graphic')
      .map(({ line }) => line),
  );
  const wrong: Wrong[] = [];
  for (const [number, line] of meant) {
    score.lines++;
    const other = got.get(number);
    const add = (kind: keyof Score): void => {
      score[kind]++;
      wrong.push({ kind, number, meant: line.text, got: other?.text ?? '(no such line)' });
    };
    if (other?.codes === line.codes) {
      score.exact++;
      if (asked.has(number)) score.askedThoughRight++;
    } else if (asked.has(number)) add('questions');
    else if (other !== undefined && skeleton(other.text) === skeleton(line.text)) {
      if (inText.has(number)) add('markedText');
      else add('silentText');
    } else add('silent');
  }
  for (const number of got.keys()) {
    if (meant.has(number) || asked.has(number)) continue;
    score.silent++;
    wrong.push({ kind: 'silent', number, meant: '(no such line)', got: got.get(number)!.text });
  }
  return wrong;
}
