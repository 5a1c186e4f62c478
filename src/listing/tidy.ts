/** Program lines in their tidy form, which reads back as the same codes whatever these are. */
import type { Line } from '../../grammar/tree.js';
import type { NumberMaking } from '../machine/arithmetic/decimal.js';
import { sameBytes } from '../machine/bytes.js';
import { KEYWORD_CODES, QUOTE, REM, SPACE, THEN } from '../machine/characters.js';
import { closingQuote, endOfPiece } from '../machine/stored-codes.js';
import type { ReadListing } from './join-pieces.js';
import { hexBytes, statementText } from './print.js';
import { readListing } from './read.js';

/** A program line before it is written. */
export interface StoredCodes {
  readonly number: number;
  /** Its text, without the NEWLINE. */
  readonly codes: Uint8Array;
}

const FIRST_COMMAND = KEYWORD_CODES.get('LPRINT')!;

/**
 * Is there a command at the start and after each THEN, and nowhere else? What fails this the
 * machine never accepts; to see so here is much cheaper than an error explained.
 */
function mayBeStatement(codes: Uint8Array): boolean {
  let before = THEN;
  for (let at = 0; at < codes.length; at = endOfPiece(codes, at)) {
    const code = codes[at];
    if (code === SPACE) continue;
    if (code >= FIRST_COMMAND !== (before === THEN)) return false;
    if (code === REM) return true;
    if (code === QUOTE && closingQuote(codes, at) < 0) return false;
    before = code;
  }
  return before !== THEN;
}

/** Most codes that are put in brackets before the rest of a line is tried as text. */
const MOST_TRIED = 3;

/**
 * The text of a line. Attempt 0 is what the machine would accept. The next are lines that are not
 * checked, which a byte in brackets outside strings marks: as readable as can be, at last all bytes.
 */
function attempt({ number, codes }: StoredCodes, tries: number, making: NumberMaking): string {
  if (tries === 0) return `${number} ${statementText(codes, making)}`;
  if (tries > MOST_TRIED || tries > codes.length) return `${number} [${hexBytes(codes)}]`;
  const head = hexBytes(codes.subarray(0, tries));
  return `${number} [${head}]${statementText(codes.subarray(tries), making)}`;
}

/** Lines as text that reads back as the same codes, whatever these are. */
export class TidyLines {
  readonly texts: string[];
  private readonly tries: Uint8Array;

  /** Writes every line as well as can be said without reading it: see `mend`. */
  constructor(
    private readonly lines: readonly StoredCodes[],
    readonly making: NumberMaking = 'typed',
  ) {
    this.tries = Uint8Array.from(lines, ({ codes }) => (mayBeStatement(codes) ? 0 : 1));
    this.texts = lines.map((line, index) => attempt(line, this.tries[index], making));
  }

  /** What must stand before the texts for them to be read as they were meant. */
  get directives(): string {
    const numbers = this.making === 'nearest' ? '\n.numbers nearest' : '';
    return `.lines as-written${numbers}`;
  }

  /** The lines that the machine would not accept, as far as is known. */
  unchecked(): StoredCodes[] {
    return this.lines.filter((_, index) => this.tries[index] > 0);
  }

  /**
   * Takes what came of reading the texts, with anything else around them, and writes anew what did
   * not come back. Gives true if there was any.
   */
  mend(read: ReadListing): boolean {
    let bad = this.misread(
      read,
      this.lines.map((_, index) => index),
    );
    const mended = bad.length > 0;
    while (bad.length > 0) {
      for (const index of bad) {
        this.texts[index] = attempt(this.lines[index], ++this.tries[index], this.making);
      }
      const text = bad.map((index) => this.texts[index]).join('\n');
      bad = this.misread(readListing(`${this.directives}\n${text}`), bad);
    }
    return mended;
  }

  /** Those of the lines at `indices` that did not come back, where `read` has these and no others. */
  private misread(read: ReadListing, indices: readonly number[]): number[] {
    const { diagnostics } = read;
    const items = read.listing.items.filter((item): item is Line => item.kind === 'line');
    let next = 0;
    return indices.filter((index, position) => {
      if (this.tries[index] > MOST_TRIED) return false;
      const line = items[position];
      while (next < diagnostics.length && diagnostics[next].start < line.start) next++;
      const clean = next >= diagnostics.length || diagnostics[next].start > line.end;
      return !clean || !isAsWritten(line, this.lines[index].codes, this.tries[index] > 0);
    });
  }
}

/** Does a line of text hold these codes, as a statement or as a line that is not checked? */
function isAsWritten({ statement, codes }: Line, wanted: Uint8Array, unchecked: boolean): boolean {
  if (statement === undefined || (statement.kind === 'unchecked') !== unchecked) return false;
  return sameBytes(codes, wanted);
}
