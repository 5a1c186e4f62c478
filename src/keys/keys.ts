/**
 * The keys to press for a listing on the machine's own keyboard. The cursor is followed as the
 * machine changes it, so that every press is the one that works at that moment.
 */
import type { Line, Listing, Span } from '../../grammar/tree.js';
import { visit } from '../../grammar/visit.js';
import { numberOfDecimal } from '../machine/arithmetic/decimal.js';
import { FIRST_DIGIT, KEYWORD_CODES, NUMBER_MARKER, THEN } from '../machine/characters.js';
import {
  CURSOR_LEFT,
  CURSOR_RIGHT,
  CURSOR_UP,
  FUNCTION,
  GRAPHICS,
  KEYS,
  type Key,
  modeAfter,
  NEWLINE_KEY,
  RUBOUT,
} from '../machine/keyboard.js';
import { HIGHEST_LINE, LOWEST_LINE } from '../machine/memory-map.js';
import { endOfPiece } from '../machine/stored-codes.js';
import { nameOfCode } from './key-names.js';

export type CursorMode = 'K' | 'L' | 'F' | 'G';

export interface Press {
  /** The name on the key: `P`, `7`, `NEWLINE`. */
  readonly key: string;
  readonly shift: boolean;
  /** What the cursor shows when the key is pressed. */
  readonly mode: CursorMode;
  /** What the press gives, as a person names it: `PRINT`, `▟`, `FUNCTION`. */
  readonly gives: string;
  /** Which code of the line this press is for: its index in the line's codes, -1 for the number. */
  readonly at: number;
  /** Is it one of the presses that reach a code which the cursor does not offer? */
  readonly detour: boolean;
}

/** Something in a line that no key gives. */
export interface OutOfReach extends Span {
  readonly what: string;
  readonly why: string;
  /** Index into the line's codes; -1 where it is the line as a whole. */
  readonly at: number;
}

export interface LineKeys extends Span {
  readonly number: number;
  readonly presses: readonly Press[];
  readonly outOfReach: readonly OutOfReach[];
}

export interface ListingKeys {
  readonly lines: readonly LineKeys[];
  /** Presses in all; a key with SHIFT held is one. */
  readonly total: number;
  /** Of those, the presses with SHIFT held. */
  readonly shifted: number;
}

/** The keys for every line, in the order in which the machine stores them. */
export function keysOfListing(listing: Listing): ListingKeys {
  const lines = listing.lines.map(keysOfLine);
  const presses = lines.flatMap((line) => line.presses);
  return { lines, total: presses.length, shifted: presses.filter(({ shift }) => shift).length };
}

/** The keys for one line, from the first digit of its number to NEWLINE. */
export function keysOfLine(line: Line): LineKeys {
  const typist = new Typist();
  for (const digit of String(line.number)) {
    typist.type(FIRST_DIGIT + Number(digit), -1);
  }
  const outOfReach = [...wholeLine(line), ...storedValues(line)];
  for (const { code, at, hidden } of shownCodes(line.codes)) {
    if (hidden || typist.type(code, at)) continue;
    outOfReach.push({ what: nameOfCode(code), why: NO_KEY, at, start: line.start, end: line.end });
  }
  typist.leaveGraphics(-1);
  typist.control(NEWLINE_KEY, line.codes.length);
  const { presses } = typist;
  return { number: line.number, presses, outOfReach, start: line.start, end: line.end };
}

const NO_KEY = 'no key gives this code';

/** What keeps a whole line from being typed. */
function wholeLine(line: Line): OutOfReach[] {
  const span = { at: -1, start: line.start, end: line.end };
  const found: OutOfReach[] = [];
  if (line.number < LOWEST_LINE || line.number > HIGHEST_LINE) {
    const why = `the machine takes line numbers from ${LOWEST_LINE} to ${HIGHEST_LINE}`;
    found.push({ what: `line number ${line.number}`, why, ...span });
  }
  if (line.statement === undefined || line.statement.kind === 'unchecked') {
    const why = 'the machine does not take a line that is no statement: it marks the place with S';
    found.push({ what: 'this line', why, ...span });
  }
  return found;
}

/** Literals that store something else than their digits: typing makes the plain value. */
function storedValues(line: Line): OutOfReach[] {
  const found: OutOfReach[] = [];
  if (line.statement === undefined) return found;
  visit(line.statement, (node) => {
    if (node.kind !== 'number') return;
    const { start, end, text, value, stored } = node;
    if (stored !== 'nothing' && value === numberOfDecimal(text)) return;
    const why = 'typing the digits stores their own value';
    found.push({ what: `the value kept with ${text}`, why, at: -1, start, end });
  });
  return found;
}

/** The codes of a line; those of a hidden number, which the machine makes itself, are marked. */
export function* shownCodes(
  codes: Uint8Array,
): Generator<{ code: number; at: number; hidden: boolean }> {
  for (let at = 0; at < codes.length; ) {
    const end = endOfPiece(codes, at);
    const hidden = codes[at] === NUMBER_MARKER;
    for (; at < end; at++) yield { code: codes[at], at, hidden };
  }
}

const CONTROL_NAMES: Record<number, string> = {
  [CURSOR_LEFT]: '←',
  [CURSOR_RIGHT]: '→',
  [GRAPHICS]: 'GRAPHICS',
  [NEWLINE_KEY]: 'NEWLINE',
  [RUBOUT]: 'RUBOUT',
  [FUNCTION]: 'FUNCTION',
};

type Way = Pick<Press, 'key' | 'shift'>;

/** Code to key, for one way of reading the keyboard. */
function waysOf(read: (key: Key) => number | undefined, shift: boolean): Map<number, Way> {
  const ways = new Map<number, Way>();
  for (const key of KEYS) {
    const code = read(key);
    if (code !== undefined && !ways.has(code)) ways.set(code, { key: key.name, shift });
  }
  return ways;
}

const IN_K = waysOf((key) => key.keyword, false);
const IN_L = waysOf((key) => key.plain, false);
const SHIFTED = waysOf((key) => key.shifted, true);
const IN_F = waysOf((key) => key.function, false);
const IN_G = new Map([
  ...waysOf((key) => key.inverse, false),
  ...waysOf((key) => key.graphic, true),
]);
const AND = KEYWORD_CODES.get('AND')!;

/** Types codes one after another and keeps what the cursor shows. */
class Typist {
  readonly presses: Press[] = [];
  private mode: 'K' | 'L' = 'K';
  private inGraphics = false;

  /** Presses what gives this code; false where no key does. */
  type(code: number, at: number): boolean {
    // Control codes are what keys do, not what they leave in a line.
    if (code >= CURSOR_UP && code <= NUMBER_MARKER + 1) return false;
    const direct = this.direct(code);
    if (direct !== undefined) {
      this.leaveGraphics(at);
      this.press(direct, this.mode, nameOfCode(code), at);
    } else if (IN_F.has(code)) {
      this.leaveGraphics(at);
      this.control(FUNCTION, at);
      this.press(IN_F.get(code)!, 'F', nameOfCode(code), at);
    } else if (IN_G.has(code)) {
      this.enterGraphics(at);
      this.press(IN_G.get(code)!, 'G', nameOfCode(code), at);
    } else if (IN_K.has(code) || IN_L.has(code)) {
      this.leaveGraphics(at);
      this.goRound(code, at);
    } else return false;
    this.mode = modeAfter(code, this.mode);
    return true;
  }

  private direct(code: number): Way | undefined {
    return (this.mode === 'K' ? IN_K : IN_L).get(code) ?? SHIFTED.get(code);
  }

  /**
   * The cursor is the wrong one: THEN makes it K, any other keyword makes it L. That keyword is
   * typed first, and rubbed out once what was wanted stands behind it.
   */
  private goRound(code: number, at: number): void {
    const [helper, mode] = this.mode === 'L' ? ([THEN, 'K'] as const) : ([AND, 'L'] as const);
    this.press(SHIFTED.get(helper)!, this.mode, nameOfCode(helper), at, true);
    const way = (mode === 'K' ? IN_K : IN_L).get(code)!;
    this.press(way, mode, nameOfCode(code), at, true);
    const after = modeAfter(code, mode);
    this.press(SHIFTED.get(CURSOR_LEFT)!, after, CONTROL_NAMES[CURSOR_LEFT], at, true);
    this.press(SHIFTED.get(RUBOUT)!, mode, CONTROL_NAMES[RUBOUT], at, true);
    this.press(SHIFTED.get(CURSOR_RIGHT)!, this.mode, CONTROL_NAMES[CURSOR_RIGHT], at, true);
  }

  control(code: number, at: number): void {
    const way = IN_L.get(code) ?? SHIFTED.get(code)!;
    this.press(way, this.inGraphics ? 'G' : this.mode, CONTROL_NAMES[code], at);
  }

  private enterGraphics(at: number): void {
    if (!this.inGraphics) this.control(GRAPHICS, at);
    this.inGraphics = true;
  }

  leaveGraphics(at: number): void {
    if (this.inGraphics) this.control(GRAPHICS, at);
    this.inGraphics = false;
  }

  private press(way: Way, mode: CursorMode, gives: string, at: number, detour = false): void {
    this.presses.push({ ...way, mode, gives, at, detour });
  }
}
