/**
 * A page to its program lines: rows that the page wrapped are joined, headers, footers, page
 * numbers, captions and rulings are set aside, and everything keeps its place in the source.
 */
import { keyword } from '../../grammar/keywords.js';
import { wordDistance } from '../listing/explain.js';
import { digitLike, shapeOf } from './look-alike.js';
import { Mapped } from './mapped.js';
import { parses } from './parsing.js';

/**
 * Stand in a joined line where two rows met: with no space between them, or with one, likely. Both
 * are noncharacters, which Unicode keeps for a program's own use.
 */
export const JOINT_CLOSED = '\uFDD0';
export const JOINT_OPEN = '\uFDD1';

export interface PageLine {
  readonly kind: 'line';
  readonly number: number;
  /** The number as it was printed. */
  readonly printedNumber: string;
  /** The statement: everything after the number. */
  readonly body: Mapped;
  /** Offsets of the first and one past the last character in the source. */
  readonly start: number;
  readonly end: number;
  readonly rows: number;
  /** The most spaces that were taken to stand at the edge of a row, inside a string or REM. */
  readonly padded: number;
}

/** A directive or a comment of the editor: kept as it stands. */
export interface PageOther {
  readonly kind: 'other';
  readonly body: Mapped;
}

/** A row that is no part of the program. */
export interface PageNoise {
  readonly kind: 'noise';
  readonly body: Mapped;
  readonly why: string;
  readonly certainty: number;
}

export type PageItem = PageLine | PageOther | PageNoise;

export interface Page {
  readonly items: readonly PageItem[];
  /** The column where the page wraps its lines; undefined where it wraps none. */
  readonly width?: number;
  /** Is it printed in capitals, so that a small letter is a misprint? */
  readonly capitals: boolean;
}

interface Row {
  readonly text: string;
  readonly start: number;
  readonly noise?: { why: string; certainty: number };
}

const DIRECTIVE = /^\s*(?:'|\.(?:name|ram|tv|start|lines|var|system|raw)\b)/i;

export function readPage(text: string): Page {
  const rows = rowsOf(text);
  const width = wrapWidth(rows);
  const reader = new PageReader(rows, width);
  return { items: reader.read(), width, capitals: isInCapitals(rows) };
}

function rowsOf(text: string): Row[] {
  const rows: { text: string; start: number }[] = [];
  let start = 0;
  for (const raw of text.split('\n')) {
    const clean = raw.replace(/[\r\f\v]+$/, '');
    // A form feed or a byte-order mark at the front is no text.
    const lead = /^[\f\ufeff]*/.exec(clean)![0].length;
    rows.push({ text: clean.slice(lead), start: start + lead });
    start += raw.length + 1;
  }
  const counts = new Map<string, number>();
  for (const row of rows) {
    const key = headerKey(row.text);
    if (key !== '') counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return rows.map((row) => ({ ...row, noise: noiseIn(row.text, counts) }));
}

/** A running header is the same on each page but for the number of the page. */
function headerKey(text: string): string {
  return startsLikeNumber(text) ? '' : text.trim().toLowerCase().replace(/\d+/g, '#');
}

/** Columns that a row takes: characters, not UTF-16 units. */
const columnsOf = (text: string): number => [...text.trimEnd()].length;

const startsLikeNumber = (text: string): boolean => /^\s*\d/.test(text);

const PAGE_NUMBER = 'a page number';
const REPEATED = 'a header or footer that comes again';

/** What shows that a row is no part of a program; undefined where nothing does. */
function noiseIn(
  text: string,
  counts: ReadonlyMap<string, number>,
): { why: string; certainty: number } | undefined {
  const plain = text.trim();
  if (plain === '') return undefined;
  if (/^[-=_*.~·•—–─═+|\s]{3,}$/.test(plain)) return { why: 'a ruling', certainty: 0.98 };
  if (
    /^(?:[-–—([]\s*)?(?:page|p\.|pp\.)?\s*\d{1,4}(?:\s*(?:of|\/)\s*\d+)?(?:\s*[-–—)\]])?$/i.test(
      plain,
    )
  )
    return { why: PAGE_NUMBER, certainty: 0.95 };
  if (
    /^(?:page|listing|program|programme|figure|fig\.?|table|chapter|continued)\b[\s\d.:]/i.test(
      plain,
    )
  )
    return { why: 'a caption', certainty: 0.96 };
  if (
    /\b(?:continued|cont'?d|overleaf|over the page|see page)\b/i.test(plain) &&
    !startsLikeNumber(plain)
  )
    return { why: 'a note of the page', certainty: 0.96 };
  if (
    !startsLikeNumber(plain) &&
    (counts.get(headerKey(text)) ?? 0) > 1 &&
    /[a-z]{3}|\s/i.test(plain) &&
    !/[="();<>]/.test(plain)
  )
    return { why: REPEATED, certainty: 0.94 };
  if (isProse(plain)) return { why: 'a sentence, not a statement', certainty: 0.95 };
  return undefined;
}

/** Several words in small letters, as captions are set. */
function isProse(text: string): boolean {
  if (startsLikeNumber(text) || /["=<>;]/.test(text)) return false;
  const words = text.match(/[A-Za-z]{2,}/g) ?? [];
  const small = words.filter((word) => /^[A-Z]?[a-z]+$/.test(word));
  return words.length >= 2 && small.length >= words.length * 0.7;
}

function isInCapitals(rows: readonly Row[]): boolean {
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
function wrapWidth(rows: readonly Row[]): number | undefined {
  const program = rows.filter(
    ({ text, noise }) =>
      text.trim() !== '' &&
      !DIRECTIVE.test(text) &&
      (noise === undefined || noise.why === REPEATED || /^\s*\d+\s*$/.test(text)),
  );
  const lengths = program
    .filter(({ text }) => startsLikeNumber(text))
    .map(({ text }) => columnsOf(text));
  if (lengths.length === 0) return undefined;
  const most = Math.max(...lengths);
  if (most < NARROWEST) return undefined;
  const full = program.filter(({ text }) => Math.abs(columnsOf(text) - most) <= 2);
  const wraps = full.some((row) => {
    const next = program[program.indexOf(row) + 1];
    return next !== undefined && !/^\s*\d+\s*\D/.test(next.text);
  });
  if (!wraps) return undefined;
  const width = Math.max(...full.map(({ text }) => columnsOf(text)));
  // A row that ended in a space shows one less than the width, and so may all of them.
  return USUAL_WIDTHS.find((usual) => usual >= width && usual - width <= 1) ?? width;
}

interface OpenLine {
  readonly number: number;
  readonly printedNumber: string;
  body: Mapped;
  readonly start: number;
  end: number;
  rows: number;
  padded: number;
  lastLength: number;
}

interface NumberReading {
  readonly value: number;
  /** Where the statement begins in the row. */
  readonly length: number;
  readonly printed: string;
  readonly cost: number;
}

/** Words with which statements begin, other machines' words among them. */
export const COMMANDS: readonly string[] =
  'LET PRINT LPRINT IF GOTO GO GOSUB FOR NEXT REM RETURN INPUT DIM STOP CLS POKE PLOT UNPLOT PAUSE RAND RUN LIST LLIST SCROLL CLEAR COPY SLOW FAST NEW SAVE LOAD CONT READ DATA RESTORE END ON DEF LOCATE HOME RANDOMIZE RANDOMISE GET'.split(
    ' ',
  );

/** Their shapes, at the front of a statement. */
export const BEGINNINGS = new RegExp(`^(?:${COMMANDS.map(shapeOf).join('|')}|\\?|'|!)`);

class PageReader {
  private readonly items: PageItem[] = [];
  private open: OpenLine | undefined;
  private last = 0;
  private inDisplay = false;
  private waiting: PageNoise[] = [];
  /** Did a blank row, or one that was set aside, come after the open line's last row? */
  private parted = false;

  constructor(
    private readonly rows: readonly Row[],
    private readonly width: number | undefined,
  ) {}

  read(): PageItem[] {
    this.rows.forEach((row, index) => {
      this.readRow(row, index);
    });
    this.close();
    return this.items;
  }

  private readRow(row: Row, index: number): void {
    const { text, start } = row;
    if (text.trim() === '') {
      this.parted = true;
      return;
    }
    if (this.inDisplay || /^\s*\.display\b/i.test(text) || DIRECTIVE.test(text)) {
      this.inDisplay =
        /^\s*\.display\b/i.test(text) || (this.inDisplay && !/^\s*\.end\b/i.test(text));
      this.close();
      this.items.push({ kind: 'other', body: Mapped.source(text, start) });
      return;
    }
    const number = this.numberOf(text, index);
    const full = this.isFull();
    if (number !== undefined && number.cost < (full ? this.dearest(text) : 12)) {
      this.begin(row, number);
    } else if (row.noise !== undefined && !(full && this.mayContinue(text, row.noise.why))) {
      this.setAside(row, row.noise);
    } else if (this.open !== undefined && (full || this.isUnfinished(text))) this.join(row);
    else if (number !== undefined && number.cost < 20) this.begin(row, number);
    else
      this.setAside(row, {
        why: 'it has no line number and continues nothing',
        certainty: this.doubtOf(row),
      });
  }

  /** What a line number after a full row may cost at most: more where that row needs no other. */
  private dearest(text: string): number {
    const word = /^\s*\w+\s+([A-Z0-9]{3,})/i.exec(text)?.[1];
    if (word === undefined || !parses(bare(this.open!.body.text))) return 4;
    const isOther =
      keyword(word.toUpperCase()) !== undefined && !COMMANDS.includes(word.toUpperCase());
    if (isOther) return 4;
    return COMMANDS.some((command) => wordDistance(word.toUpperCase(), command, 1) <= 1) ? 8 : 4;
  }

  /** Does the row before reach the edge of the page, less a space or two? */
  private isFull(): boolean {
    const { open, width } = this;
    return open !== undefined && width !== undefined && open.lastLength >= width - 3;
  }

  /** Does the open line need this row to be a statement? */
  private isUnfinished(text: string): boolean {
    const body = bare(this.open!.body.text);
    return (
      !parses(body) &&
      (/[-+*/=<>,;(]\s*$/.test(body) || hasOpenString(body) || parses(joinText(body, text)))
    );
  }

  /** Would this row, noise by its looks, complete the line before it, which is full? */
  private mayContinue(text: string, why: string): boolean {
    const body = bare(this.open!.body.text);
    // Page numbers and rulings stand apart; the end of a number or a string does not.
    if (!this.parted && (why === PAGE_NUMBER || hasOpenString(body))) return true;
    // Two lines may well end alike; headers come again at the head of a page.
    if (!this.parted && why === REPEATED) return true;
    return hasOpenString(body) ? /"/.test(text) : !parses(body) && parses(joinText(body, text));
  }

  private doubtOf(row: Row): number {
    // A single odd row that looks like code may be a line whose number was lost.
    return /["=;]|\b(?:PRINT|LET|GOTO|IF)\b/.test(row.text) ? 0.5 : 0.9;
  }

  private setAside(row: Row, noise: { why: string; certainty: number }): void {
    const item: PageNoise = { kind: 'noise', body: Mapped.source(row.text, row.start), ...noise };
    // A line that is still open stands before what is set aside while it is.
    (this.open === undefined ? this.items : this.waiting).push(item);
    this.parted = true;
  }

  /** The line number with which a row begins, the least costly of its readings. */
  private numberOf(text: string, index: number): NumberReading | undefined {
    const match = /^\s*([0-9OoIl|SBZG]{1,5})/.exec(text);
    if (match === null) return undefined;
    const lead = match[0].length - match[1].length;
    let best: NumberReading | undefined;
    for (let length = 1; length <= Math.min(4, match[1].length); length++) {
      const printed = match[1].slice(0, length);
      const rest = text.slice(lead + length);
      // `2005CROLL` is 200 SCROLL: a number may end before a digit only where a command begins.
      const runsOn = /^\d/.test(rest);
      if (runsOn && !BEGINNINGS.test(shapeOf(rest))) continue;
      const digits = [...printed].map((character) => digitLike(character)).join('');
      const odd = [...printed].filter((character) => character < '0' || character > '9').length;
      if (odd === length && !/^\s/.test(rest)) continue;
      const value = Number(digits);
      const cost = odd * 3 + (runsOn ? 3 : 0) + this.costOfNumber(value, rest, index);
      if (best === undefined || cost < best.cost)
        best = { value, length: lead + length, printed, cost };
    }
    return best;
  }

  private costOfNumber(value: number, rest: string, index: number): number {
    let cost = 0;
    if (value === 0) cost += 10;
    if (value <= this.last) cost += 5;
    if (value > this.nextNumber(index)) cost += 3;
    const begins = BEGINNINGS.test(shapeOf(rest.trimStart()));
    if (!begins && !/^\s*[A-Z]{1,2}\$?(?:\([^)]*\))?\s*=/.test(rest))
      cost += rest.trim() === '' ? 10 : parses(rest) ? 0 : 4;
    if (!/^\s/.test(rest)) cost += 0.5;
    return cost;
  }

  /** The next number further down that stands plainly at the front of a statement. */
  private nextNumber(index: number): number {
    for (let at = index + 1; at < Math.min(index + 8, this.rows.length); at++) {
      const match = /^\s*(\d{1,4})\s*([A-Z?].*)/i.exec(this.rows[at].text);
      if (match !== null && BEGINNINGS.test(shapeOf(match[2]))) return Number(match[1]);
    }
    return Number.POSITIVE_INFINITY;
  }

  private begin(row: Row, number: NumberReading): void {
    this.close();
    const { text, start } = row;
    const space = /^\s?/.exec(text.slice(number.length))![0].length;
    this.open = {
      number: number.value,
      printedNumber: number.printed,
      body: Mapped.source(text.slice(number.length + space), start + number.length + space),
      start: start + /^\s*/.exec(text)![0].length,
      end: start + text.trimEnd().length,
      rows: 1,
      padded: 0,
      lastLength: columnsOf(text),
    };
    this.last = number.value;
    this.parted = false;
  }

  private join(row: Row): void {
    const open = this.open!;
    const { text, start } = row;
    const length = open.lastLength;
    const missing = this.width === undefined ? 0 : Math.max(0, this.width - length);
    const body = open.body.text;
    const rowText = text.trimEnd();
    if (isInText(body)) {
      // Within a string or a REM, spaces at the edge of the page belong to the text.
      const trimmed = open.body.trimEnd();
      const spaces = ' '.repeat(missing + (this.width === undefined ? 1 : 0));
      open.padded = Math.max(open.padded, spaces.length);
      open.body = trimmed.concat(Mapped.made(spaces, open.end), Mapped.source(text, start));
    } else {
      const trimmed = open.body.trimEnd();
      const shown = text.trimStart();
      const joint =
        missing > 0 || text !== shown || this.width === undefined ? JOINT_OPEN : JOINT_CLOSED;
      const touches = /[\w$.]$/.test(trimmed.text) && /^[\w$.]/.test(shown);
      open.body = trimmed.concat(
        Mapped.made(touches ? joint : '', open.end),
        Mapped.source(shown, start + text.length - shown.length),
      );
    }
    open.end = start + rowText.length;
    open.rows++;
    this.parted = false;
    open.lastLength = columnsOf(rowText);
  }

  private close(): void {
    const { open } = this;
    if (open === undefined) return;
    const { number, printedNumber, start, end, rows, padded } = open;
    this.items.push({
      kind: 'line',
      number,
      printedNumber,
      body: open.body.trimEnd(),
      start,
      end,
      rows,
      padded,
    });
    this.items.push(...this.waiting);
    this.waiting = [];
    this.open = undefined;
  }
}

/** A joined text without the marks of its joints. */
export function bare(text: string): string {
  return text.replaceAll(JOINT_CLOSED, '').replaceAll(JOINT_OPEN, ' ');
}

const joinText = (left: string, right: string): string =>
  isInText(left) ? left + right : `${left.trimEnd()} ${right.trimStart()}`;

/** Does this statement end inside a string? */
export function hasOpenString(text: string): boolean {
  if (/^\s*REM\b/i.test(text)) return false;
  return (text.match(/["“”]/g) ?? []).length % 2 === 1;
}

/** Does this statement end where every character is text: in a string, or in a REM? */
function isInText(text: string): boolean {
  return hasOpenString(text) || /^\s*REM\b/i.test(text);
}
