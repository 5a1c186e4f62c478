/** Lines that begin with `.`: text to directive (the notation: `grammar/README.md`). */

import { endOfString } from '../../grammar/lexer.js';
import { ByteBuffer, readCodes, readGivenBytes, readHexBytes } from '../../grammar/text.js';
import type {
  Directive,
  Item,
  Problem,
  RawDirective,
  SystemDirective,
} from '../../grammar/tree.js';
import { type NumberMaking, nearestOfDecimal } from '../machine/arithmetic/decimal.js';
import { joined } from '../machine/bytes.js';
import type { AreaPointer } from '../machine/image-layout.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS, HIGHEST_LINE, LOWEST_LINE } from '../machine/memory-map.js';
import { encodeNumber, NUMBER_SIZE } from '../machine/numbers.js';
import { readRamSize } from '../machine/ram-size.js';
import { MARGIN_OF_FRAMES, SYSTEM_VARIABLES, systemVariable } from '../machine/system-variables.js';
import { arraySize, elementSize, type SavedVariable } from '../machine/variables.js';
import { wordDistance } from './explain.js';
import { count } from './print.js';

type Report = (problem: Problem) => void;

/** What is wrong with a directive: thrown within this file, reported at its place. */
class Wrong extends Error {
  constructor(
    readonly problem: Omit<Problem, 'start' | 'end'>,
    readonly start: number,
    readonly end: number,
  ) {
    super(problem.message);
  }
}

const LAYOUT = /[^\S\n]*/y;
const STICKY = new Map<string, RegExp>();

/** The pattern as one that matches where it is told to, ignoring case: made once. */
function stickyOf({ source }: RegExp): RegExp {
  const made = STICKY.get(source) ?? new RegExp(source, 'iy');
  STICKY.set(source, made);
  return made;
}

/** A cursor in the text of one directive. */
class Cursor {
  at = 0;

  constructor(
    readonly text: string,
    readonly base: number,
  ) {}

  fail(message: string, help?: string, start = this.at, end = this.text.length): never {
    throw new Wrong({ rule: 'directive', message, help }, start, Math.max(end, start + 1));
  }

  /** Fails at the words that were taken last. */
  failAt(words: string, message: string, help?: string): never {
    return this.fail(message, help, this.at - words.length, this.at);
  }

  /** What the pattern (sticky, ignoring case) matches here after white space, else undefined. */
  take(pattern: RegExp): RegExpExecArray | undefined {
    LAYOUT.lastIndex = this.at;
    LAYOUT.exec(this.text);
    const sticky = stickyOf(pattern);
    sticky.lastIndex = LAYOUT.lastIndex;
    const match = sticky.exec(this.text);
    if (match === null) return undefined;
    this.at = sticky.lastIndex;
    return match;
  }

  need(pattern: RegExp, what: string, help?: string): RegExpExecArray {
    return this.take(pattern) ?? this.fail(`${what} belongs here`, help);
  }

  end(): void {
    if (this.take(/\S/) !== undefined) {
      this.at--;
      this.fail('nothing more belongs here', 'leave the rest of the line out');
    }
  }
}

/** What reads the rest of each directive, up to its end. */
const READERS: Record<Directive['kind'], (cursor: Cursor) => object> = {
  name: (cursor) => ({ codes: readName(cursor) }),
  ram: (cursor) => ({ size: readRam(cursor) }),
  tv: (cursor) => ({ framesPerSecond: readTv(cursor) }),
  start: (cursor) => ({ line: readLineNumber(cursor) }),
  lines: (cursor) => cursor.need(/as-written/, 'as-written', 'write .lines as-written') && {},
  numbers: (cursor) => cursor.need(/nearest\b/, 'nearest', 'write .numbers nearest') && {},
  var: (cursor) => ({ variable: readVar(cursor) }),
  system: readSystem,
  display: (cursor) => ({ rows: readDisplay(cursor) }),
  raw: readRaw,
};

/** Reads a directive that stands at `start`; what is wrong goes to `report`, with its place. */
export function readDirective(text: string, start: number, report: Report): Directive | undefined {
  const trimmed = text.trimEnd();
  const cursor = new Cursor(trimmed, start);
  const word = cursor.take(/\.([a-z]*)/)?.[1].toLowerCase() ?? '';
  try {
    if (word === 'end') cursor.fail('this .end closes no .display', 'leave it out', 0);
    if (!Object.hasOwn(READERS, word)) {
      cursor.fail(
        `there is no directive .${word}`,
        `the directives are ${Object.keys(READERS)
          .map((name) => `.${name}`)
          .join(' ')}`,
        0,
      );
    }
    const kind = word as Directive['kind'];
    const found = READERS[kind](cursor);
    cursor.end();
    return { kind, ...found, start, end: start + trimmed.length } as Directive;
  } catch (error) {
    if (!(error instanceof Wrong)) throw error;
    const help = error.problem.help ?? `write ${exampleOf(word, trimmed)}`;
    report({ ...error.problem, help, start: start + error.start, end: start + error.end });
    return undefined;
  }
}

const EXAMPLES: Record<string, string> = {
  name: '.name "LANTERN"',
  ram: '.ram 16K, or the size that is fitted',
  tv: '.tv 50 or .tv 60',
  start: '.start 10',
  lines: '.lines as-written',
  numbers: '.numbers nearest',
  system: '.system DF_SZ = 0',
  display: '.display, then the rows, then .end, each on a line of its own',
  raw: '.raw 40 01 05',
};

/** Every directive, with an example of its right form. */
export function directiveExamples(): [word: string, example: string][] {
  return Object.keys(READERS).map((word) => [word, exampleOf(word, '.var A')]);
}

/** A directive of the kind that was meant, in its right form. */
function exampleOf(word: string, text: string): string {
  return EXAMPLES[word] ?? variableExample(text);
}

const BEGINS_VARIABLE = /\.var\s+([A-Z])[A-Z0-9]*(\$?)\s*(\(|for\b)?/i;

function variableExample(text: string): string {
  const [, letter, dollar, next] = BEGINS_VARIABLE.exec(text) ?? [text, 'A', '', undefined];
  const name = `.var ${letter.toUpperCase()}${dollar}`;
  if (next === '(') return dollar ? `${name}(2,4) = "NORTEAST"` : `${name}(3) = 1,2,3`;
  if (dollar) return `${name} = "OAK"`;
  return next === undefined ? `${name} = 3.5` : `${name} for 1 to 9 step 2 at 40`;
}

/** The codes of a quoted string at the cursor. */
function readQuoted(cursor: Cursor): Uint8Array {
  cursor.need(/(?=")/, 'a string in quotes');
  const start = cursor.at;
  const end = endOfString(cursor.text, start);
  if (end < 0) cursor.fail('this string is not closed by a quote', 'close it with "', start);
  cursor.at = end;
  return codesOf(cursor, start + 1, end - 1, true);
}

function codesOf(cursor: Cursor, start: number, end: number, inString: boolean): Uint8Array {
  const codes = new ByteBuffer();
  const problems: Problem[] = [];
  readCodes(cursor.text, start, end, inString, codes, problems);
  if (problems.length > 0) throw new Wrong(problems[0], problems[0].start, problems[0].end);
  return codes.from(0);
}

function readName(cursor: Cursor): Uint8Array {
  const start = cursor.at;
  const codes = readQuoted(cursor);
  if (codes.length === 0) {
    cursor.fail(
      'the name is empty',
      `write ${EXAMPLES.name}: the machine does not SAVE without a name (report F)`,
      start,
    );
  }
  if (codes.some((code) => code >= 128)) {
    cursor.fail(
      'a name on tape holds no inverse video and no keywords',
      'use plain characters: the top bit of a code marks the last one of the name',
      start,
    );
  }
  return codes;
}

function readRam(cursor: Cursor): number {
  const text = cursor.need(/\S+/, 'a size such as 1K or 16K')[0];
  const size = readRamSize(text);
  return typeof size === 'number' ? size : cursor.failAt(text, size);
}

function readTv(cursor: Cursor): number {
  const text = cursor.need(/\d+/, '50 or 60')[0];
  if (MARGIN_OF_FRAMES.has(Number(text))) return Number(text);
  return cursor.failAt(text, `${text} is not a rate of frames`, 'write .tv 50 or .tv 60');
}

function readLineNumber(cursor: Cursor): number {
  const text = cursor.need(/\d+/, 'a line number')[0];
  const line = Number(text);
  if (line >= LOWEST_LINE && line <= HIGHEST_LINE) return line;
  const help = `write a number from ${LOWEST_LINE} to ${HIGHEST_LINE}`;
  return cursor.failAt(text, `${text} cannot be a line number`, help);
}

/** How the listing with these directives makes numbers from their digits. */
export function makingOf(items: readonly Item[]): NumberMaking {
  return items.some(({ kind }) => kind === 'numbers') ? 'nearest' : 'typed';
}

const NUMBER = /([+-]?(?:\d+\.?\d*|\.\d+)(?:E[+-]?\d+)?)(\[=([^\]]*)\])?/;

/**
 * The five bytes of a signed number, or those that it gives itself: `3[=82 40 00 00 00]`. A variable's
 * value was worked out rather than typed: it is the number nearest to the digits.
 */
function readNumber(cursor: Cursor): Uint8Array {
  const match = cursor.need(NUMBER, 'a number');
  if (match[2] !== undefined) {
    const given = readGivenBytes(match[3]);
    if (given?.length === NUMBER_SIZE) return given;
    const message = `${match[2]} does not give five bytes`;
    return cursor.failAt(match[0], message, 'write them as [=82 40 00 00 00]');
  }
  const negative = match[1].startsWith('-');
  const value = nearestOfDecimal(match[1].replace(/^[+-]/, ''));
  if (Number.isNaN(value)) {
    const help = 'use a smaller number: five bytes hold up to about 1.7E38';
    cursor.failAt(match[0], `${match[1]} is too large for the machine`, help);
  }
  return encodeNumber(negative ? -value : value);
}

function readWord(cursor: Cursor, what: string, most = 65535): number {
  const text = cursor.need(/\d+/, what)[0];
  const value = Number(text);
  if (value <= most) return value;
  return cursor.failAt(text, `${text} is larger than ${most}`, `write a number up to ${most}`);
}

function readVar(cursor: Cursor): SavedVariable {
  const name = cursor.need(/[A-Z][A-Z0-9]*\$?/, 'the name of a variable')[0].toUpperCase();
  const nameStart = cursor.at - name.length;
  const isString = name.endsWith('$');
  const oneLetter = name.length === (isString ? 2 : 1);
  const needLetter = (what: string): void => {
    if (!oneLetter)
      cursor.fail(
        `the name of ${what} is one letter${isString ? ' and $' : ''}`,
        undefined,
        nameStart,
        nameStart + name.length,
      );
  };
  if (isString) needLetter('a string');
  const dimensions = readDimensions(cursor);
  if (dimensions !== undefined) {
    needLetter('an array');
    return readArray(cursor, name, isString, dimensions);
  }
  if (!isString && cursor.take(/for\b/) !== undefined) {
    needLetter('the variable of a loop');
    return readLoop(cursor, name);
  }
  cursor.need(/=/, '=');
  if (isString) return { kind: 'string', name, codes: readQuoted(cursor) };
  return { kind: 'number', name, value: readNumber(cursor) };
}

function readDimensions(cursor: Cursor): number[] | undefined {
  if (cursor.take(/\(/) === undefined) return undefined;
  const dimensions = [readWord(cursor, 'a size')];
  while (cursor.take(/,/) !== undefined) dimensions.push(readWord(cursor, 'a size'));
  cursor.need(/\)/, ')');
  if (dimensions.includes(0)) cursor.fail('a dimension of 0 holds nothing', 'sizes begin at 1');
  if (dimensions.length > 255) cursor.fail('an array has at most 255 dimensions');
  return dimensions;
}

function readArray(
  cursor: Cursor,
  name: string,
  isString: boolean,
  dimensions: number[],
): SavedVariable {
  cursor.need(/=/, '=');
  if (arraySize(dimensions, elementSize(isString ? 'string' : 'number')) - 3 > 0xffff) {
    cursor.fail('this array is larger than any memory', 'use smaller dimensions');
  }
  const size = dimensions.reduce((product, most) => product * most, 1);
  const start = cursor.at;
  const check = (found: number, thing: string, how: string): void => {
    if (found === size) return;
    const message = `${name}(${dimensions.join(',')}) holds ${count(size, thing)}, not ${found}`;
    cursor.fail(message, `give every element, ${how}`, start);
  };
  if (isString) {
    const codes = readQuoted(cursor);
    check(codes.length, 'character', 'padded with spaces to its length');
    return { kind: 'characters', name, dimensions, codes };
  }
  const values = [readNumber(cursor)];
  while (cursor.take(/,/) !== undefined) values.push(readNumber(cursor));
  check(values.length, 'number', 'the last subscript running fastest');
  return { kind: 'numbers', name, dimensions, values: joined(values) };
}

function readLoop(cursor: Cursor, name: string): SavedVariable {
  const value = readNumber(cursor);
  cursor.need(/to\b/, 'to', 'write .var K for 1 to 9 step 2 at 40');
  const limit = readNumber(cursor);
  const step = cursor.take(/step\b/) === undefined ? encodeNumber(1) : readNumber(cursor);
  cursor.need(/at\b/, 'at and the line of the loop', 'write .var K for 1 to 9 step 2 at 40');
  const line = readWord(cursor, 'a line number');
  return { kind: 'for', name, value, limit, step, line };
}

function readSystem(cursor: Cursor): Pick<SystemDirective, 'name' | 'value'> {
  const name = cursor.need(/[A-Z][A-Z0-9_]*/, 'the name of a system variable')[0].toUpperCase();
  const variable = systemVariable(name);
  if (variable === undefined) {
    const help = systemVariableHelp(name);
    return cursor.failAt(name, `no system variable is called ${name}`, help);
  }
  if (variable.address < systemVariable('VERSN')!.address) {
    const help = 'leave it out: what is saved begins at VERSN';
    cursor.failAt(name, `${name} is not saved on tape`, help);
  }
  cursor.need(/=/, '=');
  return { name, value: readSystemValue(cursor, name, variable.size) };
}

function systemVariableHelp(name: string): string {
  const near = SYSTEM_VARIABLES.find((known) => wordDistance(name, known.name, 1) <= 1);
  return near === undefined
    ? 'use a name from the manual, chapter 28, such as DF_SZ or SEED'
    : `did you mean ${near.name}?`;
}

function readSystemValue(cursor: Cursor, name: string, size: number): SystemDirective['value'] {
  const help = `write ${count(size, 'byte')} of two hex digits, as in [${'00 '.repeat(Math.min(size, 2)).trim()}${size > 2 ? ' …' : ''}]`;
  const hex = cursor.take(/\[([^\]]*)\]/);
  if (hex !== undefined) {
    const given = readHexBytes(hex[1]) ?? cursor.fail('this is not hex bytes', help);
    if (given.length !== size) {
      cursor.fail(`${name} has ${count(size, 'byte')}, not ${given.length}`, help);
    }
    return Uint8Array.from(given);
  }
  if (size > 2) cursor.fail(`${name} is given by its ${size} bytes, as [00 …]`, help);
  const area = cursor.take(/(D_FILE|VARS|E_LINE)\b/);
  if (area !== undefined) {
    if (size !== 2) {
      cursor.fail(`${name} has one byte, and an address has two`, 'write a number up to 255');
    }
    const base = area[1].toUpperCase() as AreaPointer;
    return { base, offset: cursor.take(/\+/) === undefined ? 0 : readWord(cursor, 'a number') };
  }
  const value = readWord(cursor, 'a number', size === 1 ? 255 : 65535);
  return size === 1 ? Uint8Array.of(value) : Uint8Array.of(value & 255, value >> 8);
}

function readDisplay(cursor: Cursor): Uint8Array[] {
  const firstEnd = cursor.text.indexOf('\n');
  if (firstEnd < 0) cursor.fail('the rows of the display and .end are missing', undefined, 0);
  if (cursor.take(/\S/) !== undefined)
    cursor.fail('the rows begin on the next line', undefined, 0, firstEnd);
  const rows: Uint8Array[] = [];
  let start = firstEnd + 1;
  for (;;) {
    const newline = cursor.text.indexOf('\n', start);
    const end = newline < 0 ? cursor.text.length : newline;
    const text = cursor.text.slice(start, end).replace(/\r$/, '');
    if (/^[ \t]*\.end$/i.test(text.trimEnd())) break;
    const row = codesOf(cursor, start, start + text.length, false);
    if (row.length > DISPLAY_COLUMNS || rows.length === DISPLAY_ROWS) {
      cursor.fail(
        row.length > DISPLAY_COLUMNS
          ? `this row has ${count(row.length, 'character')}`
          : 'there are more rows than the display has',
        `the display has ${DISPLAY_ROWS} rows of ${DISPLAY_COLUMNS}`,
        start,
        end,
      );
    }
    rows.push(row);
    if (newline < 0)
      cursor.fail(
        '.end is missing after the rows of the display',
        'write .end on a line of its own after the last row',
        0,
        firstEnd,
      );
    start = end + 1;
  }
  cursor.at = cursor.text.length;
  return rows;
}

function readRaw(cursor: Cursor): Pick<RawDirective, 'area' | 'bytes'> {
  const area = cursor.take(/(display|variables|after)\b/)?.[1].toLowerCase() ?? 'program';
  const start = cursor.at;
  const bytes =
    readHexBytes(cursor.text.slice(start)) ??
    cursor.fail('bytes of two hex digits belong here', 'write .raw 40 01 05', start);
  cursor.at = cursor.text.length;
  return { area: area as RawDirective['area'], bytes: Uint8Array.from(bytes) };
}
