/**
 * A page to its program lines: rows that the page wrapped are joined, headers, footers, page
 * numbers, captions and rulings are set aside, and everything keeps its place in the source.
 */
import { keyword } from '../../../grammar/keywords.js';
import { wordDistance } from '../../listing/explain.js';
import { CERTAINTY } from '../certainties.js';
import type { Effort } from '../effort.js';
import { digitsLike, LIKE_DIGITS, letterCount } from '../readings/look-alike.js';
import { parses } from '../readings/parsing.js';
import { beginsWithCommand, COMMANDS } from './commands.js';
import { bare, JOINT_CLOSED, JOINT_OPEN } from './joints.js';
import { Mapped } from './mapped.js';
import {
  columnsOf,
  DIRECTIVE,
  isInCapitals,
  LONGEST_LINE,
  type Noise,
  PAGE_NUMBER,
  REPEATED,
  type Row,
  rowsOf,
  TOO_LONG,
  wrapWidth,
} from './rows.js';
import { isRemark, quotesIn } from './text-spans.js';

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
export interface PageNoise extends Noise {
  readonly kind: 'noise';
  readonly body: Mapped;
}

export type PageItem = PageLine | PageOther | PageNoise;

export interface Page {
  readonly items: readonly PageItem[];
  /** The column where the page wraps its lines; undefined where it wraps none. */
  readonly width?: number;
  /** Is it printed in capitals, so that a small letter is a misprint? */
  readonly capitals: boolean;
}

export function readPage(text: string, effort: Effort): Page {
  const rows = rowsOf(text);
  const width = wrapWidth(rows);
  const reader = new PageReader(rows, width, effort);
  return { items: reader.read(), width, capitals: isInCapitals(rows) };
}

/** A line of which more rows may come. */
class OpenLine {
  private readonly parts: Mapped[] = [];
  rows = 0;
  padded = 0;
  lastLength = 0;
  end = 0;
  length = 0;
  private quotes = 0;
  private readonly remark: boolean;

  constructor(
    readonly number: number,
    readonly printedNumber: string,
    readonly start: number,
    body: Mapped,
  ) {
    this.remark = isRemark(body.text);
    this.add(body);
  }

  add(...parts: readonly Mapped[]): void {
    for (const part of parts) {
      this.parts.push(part);
      this.length += part.length;
      this.quotes += quotesIn(part.text);
    }
  }

  /** Takes the spaces off its end, before another row is put there. */
  trimEnd(): void {
    const last = this.parts.pop()!;
    const trimmed = last.trimEnd();
    this.length -= last.length - trimmed.length;
    this.parts.push(trimmed);
  }

  get body(): Mapped {
    return Mapped.joined(this.parts);
  }

  get text(): string {
    return bare(this.parts.map(({ text }) => text).join(''));
  }

  get lastPart(): string {
    return this.parts[this.parts.length - 1].text;
  }

  /** Does it end inside a string? */
  get hasOpenString(): boolean {
    return !this.remark && this.quotes % 2 === 1;
  }

  /** Does it end where every character is text: in a string, or in a REM? */
  get isInText(): boolean {
    return this.hasOpenString || this.remark;
  }
}

interface NumberReading {
  readonly value: number;
  /** Where the statement begins in the row. */
  readonly length: number;
  readonly printed: string;
  readonly cost: number;
}

/** What begins like a line number, some of its digits printed as letters. */
const NUMBER = new RegExp(`^\\s*([${LIKE_DIGITS}]{1,5})`);

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
    private readonly effort: Effort,
  ) {}

  read(): PageItem[] {
    this.rows.forEach((row, index) => {
      this.readRow(row, index);
    });
    this.close();
    return this.items;
  }

  private readRow(row: Row, index: number): void {
    const { text, start, noise } = row;
    if (noise?.why === TOO_LONG) {
      this.setAside(row, noise);
      return;
    }
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
    } else if (noise !== undefined && !(full && this.mayContinue(text, noise.why))) {
      this.setAside(row, noise);
    } else if (this.hasRoom(text) && (full || this.isUnfinished(text))) this.join(row);
    else if (number !== undefined && number.cost < 20) this.begin(row, number);
    else
      this.setAside(row, {
        why: 'it has no line number and continues nothing',
        certainty: doubtOf(row),
      });
  }

  /** Is this text a statement? False where the page has cost too much already. */
  private parses(text: string): boolean {
    return this.effort.spend(text.length) && parses(text);
  }

  /** What a line number after a full row may cost at most: more where that row needs no other. */
  private dearest(text: string): number {
    const word = /^\s*\w+\s+([A-Z0-9]{3,})/i.exec(text)?.[1].toUpperCase();
    if (word === undefined || !this.parses(this.open!.text)) return 4;
    if (keyword(word) !== undefined && !COMMANDS.includes(word)) return 4;
    return COMMANDS.some((command) => wordDistance(word, command, 1) <= 1) ? 8 : 4;
  }

  /** Does the row before reach the edge of the page, less a space or two? */
  private isFull(): boolean {
    const { open, width } = this;
    return open !== undefined && width !== undefined && open.lastLength >= width - 3;
  }

  /** May the open line be longer by this row? */
  private hasRoom(text: string): boolean {
    return this.open !== undefined && this.open.length + text.length <= LONGEST_LINE;
  }

  /** Does the open line need this row to be a statement? */
  private isUnfinished(text: string): boolean {
    const open = this.open!;
    if (open.hasOpenString) return true;
    return (
      !this.parses(open.text) &&
      (/[-+*/=<>,;(]\s*$/.test(open.lastPart) || this.parses(this.joinText(text)))
    );
  }

  /** Would this row, noise by its looks, complete the line before it, which is full? */
  private mayContinue(text: string, why: string): boolean {
    const open = this.open!;
    // Page numbers and rulings stand apart; the end of a number or a string does not.
    if (!this.parted && (why === PAGE_NUMBER || open.hasOpenString)) return true;
    // Two lines may well end alike; headers come again at the head of a page.
    if (!this.parted && why === REPEATED) return true;
    if (open.hasOpenString) return /"/.test(text);
    return !this.parses(open.text) && this.parses(this.joinText(text));
  }

  private joinText(text: string): string {
    const open = this.open!;
    return open.isInText ? open.text + text : `${open.text.trimEnd()} ${text.trimStart()}`;
  }

  private setAside(row: Row, noise: Noise): void {
    const item: PageNoise = { kind: 'noise', body: Mapped.source(row.text, row.start), ...noise };
    // A line that is still open stands before what is set aside while it is.
    (this.open === undefined ? this.items : this.waiting).push(item);
    this.parted = true;
  }

  /** The line number with which a row begins, the least costly of its readings. */
  private numberOf(text: string, index: number): NumberReading | undefined {
    const match = NUMBER.exec(text);
    if (match === null) return undefined;
    const lead = match[0].length - match[1].length;
    let best: NumberReading | undefined;
    for (let length = 1; length <= Math.min(4, match[1].length); length++) {
      const printed = match[1].slice(0, length);
      const rest = text.slice(lead + length);
      // `2005CROLL` is 200 SCROLL: a number may end before a digit only where a command begins.
      const runsOn = /^\d/.test(rest);
      if (runsOn && !beginsWithCommand(rest)) continue;
      const odd = letterCount(printed);
      if (odd === length && !/^\s/.test(rest)) continue;
      const value = Number(digitsLike(printed));
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
    if (!beginsWithCommand(rest.trimStart()) && !/^\s*[A-Z]{1,2}\$?(?:\([^)]*\))?\s*=/.test(rest))
      cost += rest.trim() === '' ? 10 : this.parses(rest) ? 0 : 4;
    if (!/^\s/.test(rest)) cost += 0.5;
    return cost;
  }

  /** The next number further down that stands plainly at the front of a statement. */
  private nextNumber(index: number): number {
    for (let at = index + 1; at < Math.min(index + 8, this.rows.length); at++) {
      const match = /^\s*(\d{1,4})\s*(?=[A-Z?])/i.exec(this.rows[at].text);
      if (match !== null && beginsWithCommand(this.rows[at].text.slice(match[0].length)))
        return Number(match[1]);
    }
    return Number.POSITIVE_INFINITY;
  }

  private begin(row: Row, { value, length, printed }: NumberReading): void {
    this.close();
    const { text, start } = row;
    const space = /^\s?/.exec(text.slice(length))![0].length;
    const body = Mapped.source(text.slice(length + space), start + length + space);
    const first = start + text.length - text.trimStart().length;
    this.open = new OpenLine(value, printed, first, body);
    this.last = value;
    this.tookRow(row);
  }

  private tookRow({ text, start }: Row): void {
    const open = this.open!;
    open.rows++;
    open.end = start + text.trimEnd().length;
    open.lastLength = columnsOf(text);
    this.parted = false;
  }

  private join(row: Row): void {
    const open = this.open!;
    const { text, start } = row;
    const missing = this.width === undefined ? 0 : Math.max(0, this.width - open.lastLength);
    const { isInText } = open;
    open.trimEnd();
    if (isInText) {
      // Within a string or a REM, spaces at the edge of the page belong to the text.
      const spaces = ' '.repeat(missing + (this.width === undefined ? 1 : 0));
      open.padded = Math.max(open.padded, spaces.length);
      open.add(Mapped.made(spaces, open.end), Mapped.source(text, start));
    } else {
      const shown = text.trimStart();
      const joint =
        missing > 0 || text !== shown || this.width === undefined ? JOINT_OPEN : JOINT_CLOSED;
      const touches = /[\w$.]$/.test(open.lastPart) && /^[\w$.]/.test(shown);
      open.add(
        Mapped.made(touches ? joint : '', open.end),
        Mapped.source(shown, start + text.length - shown.length),
      );
    }
    this.tookRow(row);
  }

  private close(): void {
    const { open } = this;
    if (open === undefined) return;
    const { number, printedNumber, start, end, rows, padded } = open;
    const body = open.body.trimEnd();
    this.items.push({ kind: 'line', number, printedNumber, body, start, end, rows, padded });
    for (const noise of this.waiting) this.items.push(noise);
    this.waiting = [];
    this.open = undefined;
  }
}

/** A single odd row that looks like code may be a line whose number was lost. */
function doubtOf({ text }: Row): number {
  return /["=;]|\b(?:PRINT|LET|GOTO|IF)\b/.test(text) ? CERTAINTY.strayCode : CERTAINTY.strayRow;
}
