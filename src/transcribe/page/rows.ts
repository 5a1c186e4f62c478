/** The rows of a page: which are no part of a program, and where the page wraps its lines. */
import { grouped } from '../../listing/search.js';
import { LARGEST_RAM } from '../../machine/ram-size.js';
import { CERTAINTY } from '../certainties.js';

/**
 * Characters of the longest line that is read: no line is longer than the machine's memory, and no
 * search in a page can be longer than a line.
 */
export const LONGEST_LINE = LARGEST_RAM;

export interface Row {
  readonly text: string;
  readonly start: number;
  /** What shows that it is no part of a program. */
  readonly noise?: Noise;
}

export interface Noise {
  readonly why: string;
  readonly certainty: number;
}

export const DIRECTIVE = /^\s*(?:'|\.(?:name|ram|tv|start|lines|var|system|raw)\b)/i;

export const startsLikeNumber = (text: string): boolean => /^\s*\d/.test(text);

/** Columns that a row takes: characters, not UTF-16 units. */
export const columnsOf = (text: string): number => [...text.trimEnd()].length;

export const PAGE_NUMBER = 'a page number';
export const REPEATED = 'a header or footer that comes again';
export const TOO_LONG = `it has more characters than the largest RAM has bytes, ${LARGEST_RAM}: no line of a program has`;

/** The rows of a text, each with what shows that it is no part of a program. */
export function rowsOf(text: string): Row[] {
  const rows: { text: string; start: number }[] = [];
  let start = 0;
  for (const raw of text.split('\n')) {
    const clean = withoutControls(raw);
    // A form feed or a byte-order mark at the front is no text.
    const lead = /^[\f\ufeff]*/.exec(clean)![0].length;
    rows.push({ text: clean.slice(lead), start: start + lead });
    start += raw.length + 1;
  }
  const alike = grouped(rows, ({ text }) => headerKey(text));
  return rows.map((row) => ({ ...row, noise: noiseIn(row.text, alike) }));
}

function withoutControls(raw: string): string {
  let end = raw.length;
  while (end > 0 && '\r\f\v'.includes(raw[end - 1])) end--;
  return raw.slice(0, end);
}

/** A running header is the same on each page but for the number of the page. */
function headerKey(text: string): string {
  return text.length > LONGEST_LINE || startsLikeNumber(text)
    ? ''
    : text.trim().toLowerCase().replace(/\d+/g, '#');
}

function noiseIn(text: string, alike: ReadonlyMap<string, readonly unknown[]>): Noise | undefined {
  if (text.length > LONGEST_LINE) return { why: TOO_LONG, certainty: CERTAINTY.open };
  const plain = text.trim();
  if (plain === '') return undefined;
  if (/^[-=_*.~·•—–─═+|\s]{3,}$/.test(plain))
    return { why: 'a ruling', certainty: CERTAINTY.ruling };
  if (
    /^(?:[-–—([]\s*)?(?:page|p\.|pp\.)?\s*\d{1,4}(?:\s*(?:of|\/)\s*\d+)?(?:\s*[-–—)\]])?$/i.test(
      plain,
    )
  )
    return { why: PAGE_NUMBER, certainty: CERTAINTY.pageNumber };
  if (
    /^(?:page|listing|program|programme|figure|fig\.?|table|chapter|continued)\b[\s\d.:]/i.test(
      plain,
    )
  )
    return { why: 'a caption', certainty: CERTAINTY.caption };
  if (
    /\b(?:continued|cont'?d|overleaf|over the page|see page)\b/i.test(plain) &&
    !startsLikeNumber(plain)
  )
    return { why: 'a note of the page', certainty: CERTAINTY.caption };
  if (
    !startsLikeNumber(plain) &&
    alike.get(headerKey(text))!.length > 1 &&
    /[a-z]{3}|\s/i.test(plain) &&
    !/[="();<>]/.test(plain)
  )
    return { why: REPEATED, certainty: CERTAINTY.runningHeader };
  if (isProse(plain)) return { why: 'a sentence, not a statement', certainty: CERTAINTY.sentence };
  return undefined;
}

/** Several words in small letters, as captions are set. */
function isProse(text: string): boolean {
  if (startsLikeNumber(text) || /["=<>;]/.test(text)) return false;
  const words = text.match(/[A-Za-z]{2,}/g) ?? [];
  const small = words.filter((word) => /^[A-Z]?[a-z]+$/.test(word));
  return words.length >= 2 && small.length >= words.length * 0.7;
}

/** Is the program printed in capitals? */
export function isInCapitals(rows: readonly Row[]): boolean {
  let large = 0;
  let small = 0;
  for (const { text, noise } of rows) {
    if (noise !== undefined || DIRECTIVE.test(text) || !startsLikeNumber(text)) continue;
    for (const character of text.replace(/"[^"]*"|REM.*/gi, '')) {
      if (character >= 'A' && character <= 'Z') large++;
      else if (character >= 'a' && character <= 'z') small++;
    }
  }
  return large > small * 6;
}

/** Widths that screens, printers and books of the time had. */
const USUAL_WIDTHS = [24, 32, 40, 64, 72, 80];

/** No screen, printer or book of the time had narrower columns. */
const NARROWEST = 18;

/** The column where the page wraps: rows reach it, none passes it, and unnumbered rows follow. */
export function wrapWidth(rows: readonly Row[]): number | undefined {
  const program = rows
    .filter(
      ({ text, noise }) =>
        text.trim() !== '' &&
        !DIRECTIVE.test(text) &&
        (noise === undefined || noise.why === REPEATED || /^\s*\d+\s*$/.test(text)),
    )
    .map(({ text }) => ({ text, columns: columnsOf(text) }));
  const most = program.reduce(
    (widest, { text, columns }) => (startsLikeNumber(text) ? Math.max(widest, columns) : widest),
    0,
  );
  if (most < NARROWEST) return undefined;
  const isFull = ({ columns }: { columns: number }): boolean => Math.abs(columns - most) <= 2;
  const wraps = program.some((row, at) => {
    const next = program[at + 1];
    return next !== undefined && isFull(row) && !/^\s*\d+\s*\D/.test(next.text);
  });
  if (!wraps) return undefined;
  const width = program.reduce(
    (widest, row) => (isFull(row) ? Math.max(widest, row.columns) : widest),
    0,
  );
  // A row that ended in a space shows one less than the width, and so may all of them.
  return USUAL_WIDTHS.find((usual) => usual >= width && usual - width <= 1) ?? width;
}
