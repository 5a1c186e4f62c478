/**
 * The characters of strings and REM: text to codes. What the machine has not stands in square
 * brackets (the notation: `README.md`).
 */
import {
  codeOfUnicode,
  GLYPHS_END,
  GRAPHIC_NAMES,
  INVERSE,
  KEYWORD_CODES,
  QUOTE_IMAGE,
  SPACE,
} from '../src/machine/characters.js';
import { NUMBER_SIZE } from '../src/machine/numbers.js';
import type { ListingToken } from './tokens.js';
import type { Problem } from './tree.js';

/** A growing run of bytes. */
export class ByteBuffer {
  bytes: Uint8Array;
  length = 0;

  constructor(size = 32) {
    this.bytes = new Uint8Array(size);
  }

  push(byte: number): void {
    if (this.length === this.bytes.length) this.grow(this.length + 1);
    this.bytes[this.length++] = byte;
  }

  pushAll(bytes: ArrayLike<number>): void {
    if (this.length + bytes.length > this.bytes.length) this.grow(this.length + bytes.length);
    this.bytes.set(bytes, this.length);
    this.length += bytes.length;
  }

  /** A copy of the bytes from `start` on. */
  from(start: number): Uint8Array {
    return this.bytes.slice(start, this.length);
  }

  /** Pushes the codes of letters, digits and signs from `start` to `end`, one each; `[sp]` is a space. */
  pushLetters(text: string, start: number, end: number): void {
    for (let at = start; at < end; at++) {
      const unit = text.charCodeAt(at);
      if (unit === 91) {
        this.push(SPACE);
        at = text.indexOf(']', at);
      } else this.push(ASCII[unit]);
    }
  }

  private grow(needed: number): void {
    const larger = new Uint8Array(Math.max(this.bytes.length * 2, needed));
    larger.set(this.bytes);
    this.bytes = larger;
  }
}

/**
 * Codes in a block that holds those of many lines. An array of them is made when it is asked for,
 * and anew each time: kept, such arrays would be a quarter of a listing's tree.
 */
export class Codes {
  readonly #block: Uint8Array;
  readonly #start: number;
  readonly #end: number;

  constructor(block: Uint8Array, start: number, end: number) {
    this.#block = block;
    this.#start = start;
    this.#end = end;
  }

  get codes(): Uint8Array {
    return this.#block.subarray(this.#start, this.#end);
  }

  get size(): number {
    return this.#end - this.#start;
  }
}

/** Codes of the ASCII characters; 255 where the machine has none. */
const ASCII = new Uint8Array(128).map((_, at) => codeOfUnicode(String.fromCharCode(at)) ?? 255);

/** Gives the bytes of a file that a REM names, or what is wrong with it. */
export type Include = (path: string) => Uint8Array | string;

const HEX_BYTES = /^\s*(?:[0-9A-F]{2}\s+)*(?:[0-9A-F]{2}\s*)?$/i;

/** The bytes of hex pairs between white space, or undefined where the text is anything else. */
export function readHexBytes(text: string): number[] | undefined {
  if (!HEX_BYTES.test(text)) return undefined;
  const bytes: number[] = [];
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    // White space lies below the digits or beyond the letters.
    if (code < 48 || code > 102) continue;
    bytes.push(16 * hexDigit(code) + hexDigit(text.charCodeAt(++at)));
  }
  return bytes;
}

/** The value of a hex digit in either case, by its UTF-16 unit. */
const hexDigit = (code: number): number => (code <= 57 ? code - 48 : (code | 32) - 87);

/** Reads what stands between two brackets; pushes its codes, or gives what is wrong with it. */
function readEscape(
  body: string,
  inString: boolean,
  out: ByteBuffer,
  include: Include | undefined,
): Omit<Problem, 'start' | 'end'> | undefined {
  if (body.startsWith('~')) return readInverse(body.slice(1), out);
  const name = body.trim();
  if (name === '') return undefined;
  const bytes = readHexBytes(name);
  if (bytes !== undefined) {
    out.pushAll(bytes);
    return undefined;
  }
  const code =
    GRAPHIC_NAMES.get(name.toLowerCase()) ??
    KEYWORD_CODES.get(name.toUpperCase()) ??
    { sp: 0, pound: 12 }[name.toLowerCase()];
  if (code !== undefined) {
    out.push(code);
    return undefined;
  }
  const file = /^file\s+"([^"]+)"$/i.exec(name);
  if (file !== null && !inString) {
    const found = include?.(file[1]) ?? 'no file can be read from here';
    if (typeof found === 'string') {
      return {
        rule: 'include',
        message: `${file[1]} cannot be put in: ${found}`,
        help: 'name a file in the folder of the listing, or write the bytes themselves, as in REM [76 00]',
      };
    }
    out.pushAll(found);
    return undefined;
  }
  return {
    rule: 'no-such-form',
    message: `[${body}] is not a form that the notation has`,
    help: 'write [~TEXT] for inverse video, [76 00] for bytes, [PRINT] for a keyword, [sp] for a space, [ul+lr] for a graphic',
  };
}

function readInverse(text: string, out: ByteBuffer): Omit<Problem, 'start' | 'end'> | undefined {
  for (const character of text) {
    const code = codeOfUnicode(character);
    if (code === undefined || code >= GLYPHS_END) {
      return {
        rule: 'no-such-character',
        message: `the machine has no inverse of ${named(character)}`,
        why: `only the codes 0 to ${GLYPHS_END - 1} have an inverse`,
        help: code === undefined ? insteadOf(character) : 'write it outside the brackets',
      };
    }
    out.push(code + INVERSE);
  }
  return undefined;
}

/** A character as a message shows it. */
export function named(character: string): string {
  const point = character.codePointAt(0)!;
  const hex = `U+${point.toString(16).toUpperCase().padStart(4, '0')}`;
  return point > 32 && point !== 127 && !(point >= 0xd800 && point < 0xe000)
    ? `"${character}" (${hex})`
    : hex;
}

/** What to do about a character that the machine has not: a sentence of its own each. */
const REPLACEMENTS: Record<string, string> = {
  '“': 'use a plain quote "',
  '”': 'use a plain quote "',
  '„': 'use a plain quote "',
  '’': 'leave it out, or use a comma',
  '‘': 'leave it out, or use a comma',
  "'": 'leave it out, or use a comma',
  '–': 'use a minus sign -',
  '—': 'use a minus sign -',
  '×': 'use an asterisk *',
  '÷': 'use a stroke /',
  '!': 'use a full stop .',
  '#': 'leave it out, or write NO.',
  '&': 'write AND, or use a plus sign +',
  '%': 'write PERCENT',
  '@': 'write AT',
  _: 'use a minus sign -, or an inverse space [~ ]',
  '[': 'close it with ], or leave it out',
};

const insteadOf = (character: string): string =>
  REPLACEMENTS[character] ?? 'leave it out, or write a byte as [XX]';

/** Pushes the codes of a string token, without its quotes. */
export function readString(token: ListingToken, out: ByteBuffer, problems: Problem[]): void {
  readCodes(token.text, token.startOffset + 1, token.end - 1, true, out, problems);
}

/** Pushes the codes of a REM token's text: after the word, and after one space of layout. */
export function readRem(
  token: ListingToken,
  out: ByteBuffer,
  problems: Problem[],
  include?: Include,
): void {
  const { text, startOffset, end } = token;
  const start = startOffset + (text[startOffset + 3] === ' ' ? 4 : 3);
  readCodes(text, start, text[end - 1] === '\r' ? end - 1 : end, false, out, problems, include);
}

/** Reads the codes of a string's or a REM's text, which stands from `start` to `end`. */
export function readCodes(
  text: string,
  start: number,
  end: number,
  inString: boolean,
  out: ByteBuffer,
  problems: Problem[],
  include?: Include,
): void {
  let part: string | undefined;
  for (let at = start; at < end; at++) {
    const unit = text.charCodeAt(at);
    if (unit < 128) {
      const code = ASCII[unit];
      if (code !== 255) {
        if (unit === 34 && inString) {
          // Within a string the quotes come in pairs: the lexer saw to that.
          out.push(QUOTE_IMAGE);
          at++;
        } else out.push(code);
        continue;
      }
      if (unit === 91) {
        // Looked for in this part alone: the text behind it may be long.
        part ??= text.slice(start, end);
        const close = start + part.indexOf(']', at - start);
        if (close > at) {
          const wrong = readEscape(text.slice(at + 1, close), inString, out, include);
          if (wrong !== undefined) {
            problems.push({ ...wrong, start: at, end: close + 1 });
          }
          at = close;
          continue;
        }
      }
    }
    const character = String.fromCodePoint(text.codePointAt(at)!);
    const code = unit < 128 ? undefined : codeOfUnicode(character);
    if (code !== undefined) out.push(code);
    else problems.push(noSuchCharacter(character, at));
    at += character.length - 1;
  }
}

function noSuchCharacter(character: string, at: number): Problem {
  return {
    start: at,
    end: at + character.length,
    rule: 'no-such-character',
    message:
      character === '['
        ? 'this "[" is not closed by a "]"'
        : `the machine has no character ${named(character)}`,
    why: 'its characters are capitals, digits, a space, "£$:?()><=+-*/;,. and the graphics',
    help: insteadOf(character),
  };
}

/** The bytes that a literal's `[=…]` gives: five, or none for `[=]`; undefined if it is wrong. */
export function readGivenBytes(body: string): Uint8Array | undefined {
  const bytes = readHexBytes(body);
  if (bytes === undefined || (bytes.length !== 0 && bytes.length !== NUMBER_SIZE)) return undefined;
  return Uint8Array.from(bytes);
}

/** The codes that an escape outside strings and REM stands for; undefined if it is wrong. */
export function readLooseEscape(image: string): Uint8Array | undefined {
  const out = new ByteBuffer();
  const wrong = readEscape(image.slice(1, -1), true, out, undefined);
  return wrong === undefined ? out.from(0) : undefined;
}
