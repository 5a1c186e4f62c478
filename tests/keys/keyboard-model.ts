/**
 * A model of typing on the machine: presses go in, and the line that NEWLINE stores comes out. It
 * reads the table of keys forwards, and finds the cursor from the line each time, as the machine
 * does; it shares no code with what is tested.
 */

import { numberOfDecimal } from '../../src/machine/arithmetic/decimal.js';
import {
  CURSOR_LEFT,
  CURSOR_RIGHT,
  FUNCTION,
  GRAPHICS,
  KEYS,
  NEWLINE_KEY,
  RUBOUT,
} from '../../src/machine/keyboard.js';
import { encodeNumber } from '../../src/machine/numbers.js';

const THEN = 222;
const REM = 234;
const QUOTE = 11;

export interface StoredLine {
  readonly number: number;
  readonly codes: Uint8Array;
}

export class KeyboardModel {
  private readonly before: number[] = [];
  private readonly after: number[] = [];
  private mode: 'KL' | 'F' | 'G' = 'KL';
  private stored: StoredLine | undefined;

  /** What the cursor shows. */
  get cursor(): 'K' | 'L' | 'F' | 'G' {
    if (this.mode !== 'KL') return this.mode;
    let cursor: 'K' | 'L' = 'K';
    for (const code of this.before) if (code >= 38) cursor = code === THEN ? 'K' : 'L';
    return cursor;
  }

  press(name: string, shift: boolean): void {
    const key = KEYS.find((one) => one.name === name);
    if (key === undefined) throw new Error(`there is no key ${name}`);
    const { cursor } = this;
    const code =
      cursor === 'G'
        ? shift
          ? key.graphic
          : key.inverse
        : cursor === 'F' && !shift
          ? key.function
          : shift
            ? key.shifted
            : cursor === 'K'
              ? key.keyword
              : key.plain;
    if (cursor === 'F') this.mode = 'KL';
    if (code === undefined) throw new Error(`${name} gives nothing at ${cursor}`);
    this.take(code);
  }

  private take(code: number): void {
    if (code === FUNCTION) this.mode = 'F';
    else if (code === GRAPHICS) this.mode = this.mode === 'G' ? 'KL' : 'G';
    else if (code === RUBOUT) this.before.pop();
    else if (code === CURSOR_LEFT) this.after.unshift(...this.before.splice(-1));
    else if (code === CURSOR_RIGHT) this.before.push(...this.after.splice(0, 1));
    else if (code === NEWLINE_KEY) this.stored = storedLine([...this.before, ...this.after]);
    else if (code >= 112 && code <= 127) throw new Error(`control code ${code}`);
    else this.before.push(code);
  }

  /** The line that NEWLINE put into the program. */
  line(): StoredLine {
    if (this.stored === undefined) throw new Error('NEWLINE was not pressed');
    return this.stored;
  }
}

const isDigit = (code: number): boolean => code >= 28 && code <= 37;
const isLetter = (code: number): boolean => code >= 38 && code <= 63;

function storedLine(typed: readonly number[]): StoredLine {
  let at = 0;
  let number = 0;
  while (isDigit(typed[at])) number = number * 10 + typed[at++] - 28;
  return { number, codes: withNumbers(typed.slice(at)) };
}

/** Puts the hidden marker and five bytes behind every literal, as the machine does on NEWLINE. */
function withNumbers(codes: readonly number[]): Uint8Array {
  const stored: number[] = [];
  const text = (from: number, to: number): string =>
    codes
      .slice(from, to)
      .map(
        (code) =>
          '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ'[code - 28] ??
          (code === 27 ? '.' : code === 21 ? '+' : code === 22 ? '-' : '!'),
      )
      .join('');
  for (let at = 0; at < codes.length; ) {
    if (codes[at] === REM) return Uint8Array.from([...stored, ...codes.slice(at)]);
    let end = at + 1;
    if (codes[at] === QUOTE) {
      end = codes.indexOf(QUOTE, at + 1) + 1;
      stored.push(...codes.slice(at, end));
    } else if (isLetter(codes[at])) {
      while (isLetter(codes[end]) || isDigit(codes[end])) end++;
      stored.push(...codes.slice(at, end));
    } else if (isDigit(codes[at]) || codes[at] === 27) {
      const literal = /^(\d+\.?\d*|\.\d+)(E[+-]?\d+)?/.exec(text(at, codes.length))![0];
      end = at + literal.length;
      stored.push(...codes.slice(at, end), 126, ...encodeNumber(numberOfDecimal(literal)));
    } else stored.push(codes[at]);
    at = end;
  }
  return Uint8Array.from(stored);
}
