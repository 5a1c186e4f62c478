/** New line numbers, and everything that names a line made to name the same one. */

import type {
  Expression,
  Item,
  Line,
  Listing,
  NumberLiteral,
  Statement,
  StringLiteral,
  SystemDirective,
} from '../../grammar/tree.js';
import { partsOf, withoutBrackets } from '../../grammar/visit.js';
import { numberOfDecimal } from '../machine/arithmetic/decimal.js';
import { KEYWORD_CODES, textOfCodes } from '../machine/characters.js';
import { lineSize } from '../machine/image-layout.js';
import { HIGHEST_LINE, PROGRAM_START } from '../machine/memory-map.js';
import { encodeNumber } from '../machine/numbers.js';
import { findPiece } from '../machine/stored-codes.js';
import { addressesIn, PEEK, POKE, USR } from './addresses.js';
import { constantOf } from './constants.js';
import type { Diagnostic } from './diagnostics.js';
import { directiveText } from './directive-text.js';
import { applyEdits, type Edit } from './edits.js';
import type { ListingText } from './join-pieces.js';
import { hexBytes } from './print.js';
import { readListing } from './read.js';
import { firstIndex } from './search.js';

export interface RenumberOptions {
  /** Number of the first line; 10 unless given. */
  readonly start?: number;
  /** From one line to the next; 10 unless given. */
  readonly step?: number;
  /** Instead of both: the new number of each line, in stored order and rising. */
  readonly numbers?: readonly number[];
  /** Go on where a target is computed: such a target stays as it is, and is only pointed out. */
  readonly force?: boolean;
}

export interface Renumbered {
  /** The text with its new numbers, all else as it was. Undefined where there is an error. */
  readonly text?: string;
  /** The changes that give this text. */
  readonly edits: readonly Edit[];
  /** Old number to new. */
  readonly numbers: ReadonlyMap<number, number>;
  /** What could not be followed, with places in the text as it was. */
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Gives the lines of a listing that was read without errors new numbers, in the order in which the
 * machine stores them. GOTO, GOSUB, RUN, LIST and LLIST, `.start`, saved FOR variables and the
 * system variables that hold line numbers follow. A target that is not there leads, as on the
 * machine, to the next line, and gets that line's number.
 */
export function renumber(
  { text, listing }: ListingText,
  options: RenumberOptions = {},
): Renumbered {
  return new Renumbering(text, listing, options).run();
}

/** The first number and the step of lines, where none is asked for. */
export const USUAL_START = 10;
export const USUAL_STEP = 10;

const ADDRESS_WORDS = [USR, POKE, PEEK];
/** The commands that name a line of the program. */
export const NAMING_A_LINE = new Set<Statement['kind']>(['GOTO', 'GOSUB', 'RUN', 'LIST', 'LLIST']);
const TARGET_CODES = new Set([...NAMING_A_LINE].map((word) => KEYWORD_CODES.get(word)!));
/** What is larger is not a line number: the machine stops with report B. */
const HIGHEST_TARGET = 65535;
/** System variables that hold a line number (manual, chapter 28, from memory). */
const LINE_VARIABLES = new Set(['E_PPC', 'S_TOP', 'OLDPPC']);

class Renumbering {
  private readonly edits: Edit[] = [];
  private readonly diagnostics: Diagnostic[] = [];
  private readonly numbers = new Map<number, number>();
  private readonly olds: readonly number[];
  private readonly news: readonly number[];
  /** Where the numbers never fall: then a search can take halves. */
  private readonly sorted: boolean;
  private readonly start: number;
  private readonly step: number;

  constructor(
    private readonly text: string,
    private readonly listing: Listing,
    private readonly options: RenumberOptions,
  ) {
    this.start = options.start ?? USUAL_START;
    this.step = options.step ?? USUAL_STEP;
    const { lines } = listing;
    this.news = options.numbers ?? lines.map((_, index) => this.start + index * this.step);
    this.olds = lines.map(({ number }) => number);
    this.sorted = lines.every(({ number }, at) => at === 0 || number > lines[at - 1].number);
    for (const [index, { number }] of lines.entries()) {
      // Where a number comes twice, the machine finds the first.
      if (!this.numbers.has(number)) this.numbers.set(number, this.news[index]);
    }
  }

  run(): Renumbered {
    const { numbers, diagnostics } = this;
    if (!this.checkRoom()) return { numbers, diagnostics, edits: [] };
    for (const [index, line] of this.listing.lines.entries()) {
      const digits = String(this.news[index]);
      const end = line.start + /^\d*/.exec(this.text.slice(line.start, line.end))![0].length;
      this.edits.push({ start: line.start, end, text: digits });
      if (line.statement !== undefined) this.followStatement(line, line.statement);
    }
    for (const item of this.listing.items) this.followItem(item);
    this.edits.sort((a, b) => a.start - b.start);
    const text = applyEdits(this.text, this.edits);
    this.checkAddresses(text);
    this.diagnostics.sort((a, b) => a.start - b.start);
    const stopped = diagnostics.some(({ severity }) => severity === 'error');
    if (stopped) return { numbers, diagnostics, edits: [] };
    const edits = this.edits.filter((edit) => this.text.slice(edit.start, edit.end) !== edit.text);
    return { text, numbers, diagnostics, edits };
  }

  /**
   * A target with more digits makes its line longer, and moves all that stands behind it: machine
   * code too. Points out constant addresses that no longer lead where they led.
   */
  private checkAddresses(text: string): void {
    const { lines } = this.listing;
    const pointing = lines
      .map((line) => ({ line, addresses: addressesIn(line.codes, ADDRESS_WORDS) }))
      .filter(({ addresses }) => addresses.some((address) => address >= PROGRAM_START));
    if (pointing.length === 0) return;
    const moves = this.movesOf(readListing(text).listing.lines);
    for (const { line, addresses } of pointing) {
      const address = addresses.find((one) => one >= PROGRAM_START && moves(one) !== 0);
      if (address === undefined) continue;
      this.pointOut(
        line,
        'moved-address',
        `what stands at address ${address} moves to ${address + moves(address)}`,
        'line numbers in targets have more or fewer digits than before, which moves all behind them',
        'choose a start and a step that give as many digits, set the address right by hand, or give --force',
      );
    }
  }

  /** Gives for an address how far the new program has moved what stands there. */
  private movesOf(after: readonly Line[]): (address: number) => number {
    const { lines } = this.listing;
    const numbers = new Map(after.map((line) => [line.number, line]));
    const ends: number[] = [];
    const moved: number[] = [];
    let end = PROGRAM_START;
    let move = 0;
    for (const [index, line] of lines.entries()) {
      const now = numbers.get(this.news[index]);
      end += lineSize(line);
      ends.push(end);
      moved.push(move);
      // A file that a REM puts in cannot be read here; it has no target that changes.
      if (now?.statement !== undefined) move += now.size - line.size;
    }
    return (address) => moved[ends.findIndex((one) => address < one)] ?? move;
  }

  private checkRoom(): boolean {
    const { lines } = this.listing;
    const over = this.news.findIndex((number) => number > HIGHEST_LINE);
    if (over < 0) return true;
    this.diagnostics.push({
      severity: 'error',
      start: lines[over].start,
      end: lines[over].end,
      rule: 'renumber',
      message: `line ${lines[over].number} would be ${this.news[over]}`,
      why: `the highest line number is ${HIGHEST_LINE}, and there are ${lines.length} lines`,
      help: `take a smaller step or start: a step of ${Math.max(1, Math.floor((HIGHEST_LINE - 1) / lines.length))} fits`,
    });
    return false;
  }

  /** Index of the line to which a number leads: its own, else the next that the machine finds. */
  private lineAt(target: number): number {
    const { lines } = this.listing;
    if (!this.sorted) return lines.findIndex(({ number }) => number >= target);
    const index = firstFrom(this.olds, target);
    return index < lines.length ? index : -1;
  }

  /** The new number of a target; past the last line it stays past it. */
  private newNumber(target: number): number {
    const index = this.lineAt(target);
    if (index >= 0) return this.news[index];
    const last = this.news.at(-1) ?? 0;
    return target > last ? target : Math.min(last + this.step, HIGHEST_LINE + 1);
  }

  /** Does a number that stays as it is lead to the same line afterwards? */
  private leadsThere(target: number): boolean {
    const before = this.lineAt(target);
    const after = firstFrom(this.news, target);
    return before < 0 ? after >= this.news.length : after === before;
  }

  // ───────────────────────────── what names a line ─────────────────────────────

  private followStatement(line: Line, statement: Statement): void {
    if (statement.kind === 'IF') this.followStatement(line, statement.then);
    else if (statement.kind === 'unchecked') this.pointOutUnchecked(line);
    else if (NAMING_A_LINE.has(statement.kind) && 'args' in statement) {
      const [target] = statement.args as readonly Expression[];
      if (target !== undefined) this.followTarget(target, statement.kind);
    }
  }

  private followTarget(target: Expression, word: string): void {
    const plain = withoutBrackets(target);
    if (plain.kind === 'number' && plain.stored !== 'nothing') this.followLiteral(plain);
    else if (plain.kind === 'call' && plain.function === 'VAL' && isDigits(plain.argument)) {
      const digits = withoutBrackets(plain.argument) as StringLiteral;
      this.edits.push({
        start: digits.start,
        end: digits.end,
        text: `"${this.newNumber(numberOfDecimal(textOfCodes(digits.codes)))}"`,
      });
    } else this.followConstant(target, word);
  }

  private followLiteral(literal: NumberLiteral): void {
    const { start, end, text, value } = literal;
    if (value < 0 || value > HIGHEST_TARGET) return;
    const number = this.newNumber(Math.round(value));
    if (number === value && literal.stored === 'digits') return;
    // Digits that show another number than the line's keep showing it.
    const shown = numberOfDecimal(text) === value;
    const replaced = shown ? String(number) : `${text}[=${hexBytes(encodeNumber(number))}]`;
    this.edits.push({ start, end, text: replaced });
  }

  /** NOT PI, CODE "A" and the like: they stay where they still lead to the same line. */
  private followConstant(target: Expression, word: string): void {
    const value = constantOf(target);
    if (value === undefined) {
      this.pointOut(
        target,
        'computed-target',
        `the target of this ${word} is computed`,
        'which line it leads to is known only when the program runs',
        'renumber by hand what it leads to, or give --force to leave it as it is',
      );
      return;
    }
    const number = Math.round(value);
    if (value < 0 || number > HIGHEST_TARGET || this.leadsThere(number)) return;
    const digits = String(this.newNumber(number));
    // Who took pains to have no literal, with its six hidden bytes, is not given one.
    const { start, end } = target;
    const gap = /\w/.test(this.text[start - 1]) ? ' ' : '';
    this.edits.push({
      start,
      end,
      text: gap + (holdsLiteral(target) ? digits : `VAL "${digits}"`),
    });
  }

  private followItem(item: Item): void {
    const { start, end } = item;
    if (item.kind === 'start') {
      const line = this.newNumber(item.line);
      if (line !== item.line) this.edits.push({ start, end, text: `.start ${line}` });
    } else if (item.kind === 'var' && item.variable.kind === 'for') {
      const variable = { ...item.variable, line: this.loopLine(item.variable.line) };
      if (variable.line === item.variable.line) return;
      this.edits.push({ start, end, text: directiveText({ ...item, variable }) });
    } else if (item.kind === 'system') this.followSystem(item);
    else if (item.kind === 'raw' && item.area === 'program') {
      this.pointOut(
        item,
        'not-renumbered',
        'these bytes may hold lines or targets, which are not followed',
        'they are no line that the text can show',
        'look at them by hand, or give --force to leave them as they are',
      );
    }
  }

  /**
   * The line of a saved FOR variable. The machine keeps the number after that of the FOR line,
   * whether there is such a line or not (the published ROM disassembly, from memory).
   */
  private loopLine(line: number): number {
    const before = this.lineAt(line - 1);
    const isAfter = before >= 0 && this.listing.lines[before].number === line - 1;
    const own = this.lineAt(line);
    if (own >= 0 && this.listing.lines[own].number === line) return this.news[own];
    return isAfter ? this.news[before] + 1 : this.newNumber(line);
  }

  private followSystem(item: SystemDirective): void {
    if (!LINE_VARIABLES.has(item.name) || 'base' in item.value) return;
    const [low, high] = item.value;
    const number = low + 256 * high;
    if (number === 0) return;
    const value = this.newNumber(number);
    if (value === number) return;
    const { start, end } = item;
    const bytes = Uint8Array.of(value & 255, value >> 8);
    this.edits.push({ start, end, text: directiveText({ ...item, value: bytes }) });
  }

  /** A line that is not checked: its targets are seen, and not followed. */
  private pointOutUnchecked(line: Line): void {
    if (!holdsTarget(line.codes)) return;
    this.pointOut(
      line,
      'not-renumbered',
      `line ${line.number} is not checked, and its targets are not followed`,
      'bytes in brackets outside strings and REM make a line that is stored as it stands',
      'renumber its targets by hand, or give --force to leave it as it is',
    );
  }

  private pointOut(
    { start, end }: { readonly start: number; readonly end: number },
    rule: string,
    message: string,
    why: string,
    help: string,
  ): void {
    const severity = this.options.force ? 'warning' : 'error';
    this.diagnostics.push({ severity, start, end, rule, message, why, help });
  }
}

/** Index of the first of rising numbers that is not below `wanted`; their count where none is. */
const firstFrom = (numbers: readonly number[], wanted: number): number =>
  firstIndex(numbers.length, (index) => numbers[index] >= wanted);

const holdsLiteral = (node: Expression): boolean =>
  node.kind === 'number' || partsOf(node).some(holdsLiteral);

function isDigits(argument: Expression): boolean {
  const plain = withoutBrackets(argument);
  return plain.kind === 'string' && /^\d+$/.test(textOfCodes(plain.codes));
}

/** Is there a GOTO or the like outside strings and REM? */
function holdsTarget(codes: Uint8Array): boolean {
  return findPiece(codes, (code) => TARGET_CODES.has(code)) >= 0;
}
