/**
 * Detokenising: the codes that a line stores to the text of a listing, in its tidy form. The inverse
 * of tokenise.ts.
 */
import { type NumberMaking, numberOfLiteral } from '../src/machine/arithmetic/decimal.js';
import {
  codeOfUnicode,
  GLYPHS_END,
  hasSpaceAfter,
  hasSpaceBefore,
  INVERSE,
  isDigitCode,
  isLetterCode,
  KEYWORDS,
  NUMBER_MARKER,
  POINT,
  QUOTE,
  QUOTE_IMAGE,
  REM,
  SPACE,
  unicodeOfCode,
} from '../src/machine/characters.js';
import { encodeNumber, hexByte, NUMBER_SIZE } from '../src/machine/numbers.js';
import { closingQuote } from '../src/machine/stored-codes.js';
import { endOfSpeltName, endOfSpeltNumber, type Spelling, withoutSpaces } from './spelling.js';

const FIRST_INVERSE_SIGN = QUOTE + INVERSE;
const LAST_INVERSE_SIGN = GLYPHS_END - 1 + INVERSE;
const INVERSE_SPACE = SPACE + INVERSE;

/** Bytes as the notation writes them: two hex digits each, with spaces between. */
export function hexBytes(bytes: ArrayLike<number>): string {
  let text = '';
  for (let at = 0; at < bytes.length; at++) text += (at === 0 ? '' : ' ') + hexByte(bytes[at]);
  return text;
}

const isInverseSign = (code: number): boolean =>
  code >= FIRST_INVERSE_SIGN && code <= LAST_INVERSE_SIGN;

/**
 * The text of a string (without its quotes) or of a REM. The two differ in code 11, which ends a
 * string, and 192, which is the pair of quotes in it.
 */
export function charactersText(codes: Uint8Array, inString: boolean): string {
  let text = '';
  for (let at = 0; at < codes.length; at++) {
    const code = codes[at];
    const character = unicodeOfCode(code);
    if (character !== undefined && !(code === QUOTE && inString)) text += character;
    else if (code === QUOTE_IMAGE) text += inString ? '""' : '[""]';
    else if (isInverseSign(code)) {
      const end = endOfInverse(codes, at);
      text += inverseRun(codes, at, end);
      at = end - 1;
    } else if (KEYWORDS.has(code)) text += `[${KEYWORDS.get(code)}]`;
    else {
      const end = endOfBytes(codes, at);
      text += `[${hexBytes(codes.subarray(at, end))}]`;
      at = end - 1;
    }
  }
  return text;
}

/** End of a run of inverse signs. An inverse space belongs to it when they stand on both sides of it. */
function endOfInverse(codes: Uint8Array, start: number): number {
  let at = start;
  while (
    isInverseSign(codes[at]) ||
    (codes[at] === INVERSE_SPACE && isInverseSign(codes[at + 1]))
  ) {
    at++;
  }
  return at;
}

function inverseRun(codes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let at = start; at < end; at++) text += unicodeOfCode(codes[at] - INVERSE);
  return `[~${text}]`;
}

/** End of a run of codes that only hex can write. */
function endOfBytes(codes: Uint8Array, start: number): number {
  let at = start;
  while (at < codes.length && isByteOnly(codes[at])) at++;
  return Math.max(at, start + 1);
}

const isByteOnly = (code: number): boolean =>
  unicodeOfCode(code) === undefined && !isInverseSign(code) && !KEYWORDS.has(code);

/** Bytes in one row of a REM that holds machine code, and of a `.raw`. */
export const BYTES_A_ROW = 16;

/**
 * REM text: as charactersText, but no space may stand where an editor would drop it. Codes that no
 * key gives mean machine code: then all of it is shown in bytes, in rows if it is long.
 */
export function remText(codes: Uint8Array): string {
  if (codes.length === 0) return '';
  if (codes.some(isByteOnly)) return ` ${bytesBlock(codes)}`;
  const last = codes.at(-1) === SPACE ? codes.length - 1 : codes.length;
  return ` ${charactersText(codes.subarray(0, last), false)}${last < codes.length ? '[sp]' : ''}`;
}

function bytesBlock(codes: Uint8Array): string {
  if (codes.length <= BYTES_A_ROW) return `[${hexBytes(codes)}]`;
  const rows: string[] = [];
  for (let at = 0; at < codes.length; at += BYTES_A_ROW) {
    rows.push(`  ${hexBytes(codes.subarray(at, at + BYTES_A_ROW))}`);
  }
  return `[\n${rows.join('\n')}\n]`;
}

const DOLLAR = codeOfUnicode('$')!;
const LETTER_E = codeOfUnicode('E')!;
/** A space outside strings and REM. */
const STORED_SPACE = '[sp]';

/**
 * A statement's codes as text. What comes out reads back as the same codes for every statement that
 * the machine accepts; for other codes it is a try, which the caller must check. Literals whose
 * bytes are not made from their digits in this way are followed by their bytes.
 */
export function statementText(codes: Uint8Array, making: NumberMaking = 'typed'): string {
  let text = '';
  // The line number before the statement is followed by a space already.
  let spaced = true;
  let endOfNumber = -1;
  // To look at a text that grows would put it together anew each time.
  let last = Number.NaN;
  const put = (piece: string, space = false): void => {
    // Two words or numbers that touched would be read as one.
    if (!spaced && isWordEnd(last) && isWordEnd(piece.charCodeAt(0))) text += ' ';
    text += piece;
    last = piece.charCodeAt(piece.length - 1);
    spaced = space;
  };
  for (let at = 0; at < codes.length; at++) {
    const code = codes[at];
    if (code === REM) {
      return `${text}${spaced ? '' : ' '}REM${remText(codes.subarray(at + 1))}`;
    }
    const word = KEYWORDS.get(code);
    if (code === QUOTE) {
      const end = closingQuote(codes, at);
      if (end < 0) put(`[${hexByte(code)}]`);
      else {
        put(`"${charactersText(codes.subarray(at + 1, end), true)}"`);
        at = end;
      }
    } else if (word !== undefined && code !== QUOTE_IMAGE) {
      const before = hasSpaceBefore(code) && !spaced ? ' ' : '';
      const after = hasSpaceAfter(code);
      put(`${before}${word}${after ? ' ' : ''}`, after);
    } else if (isLetterCode(code)) {
      const end = endOfName(codes, at);
      put(plainText(codes, at, end));
      at = end - 1;
    } else if (isDigitCode(code) || code === POINT) {
      const end = endOfLiteral(codes, at);
      put(literalText(codes, at, end, making));
      endOfNumber = text.length;
      at =
        codes[end] === NUMBER_MARKER && end + NUMBER_SIZE < codes.length
          ? end + NUMBER_SIZE
          : end - 1;
    } else if (code === SPACE) {
      // One that touched a number would be taken for one before its bytes.
      put(text.length === endOfNumber ? ` ${STORED_SPACE}` : STORED_SPACE);
    } else put(looseText(code));
  }
  return text.trimEnd();
}

/** Could this character be part of a name or a number? */
const isWordEnd = (unit: number): boolean =>
  (unit >= 65 && unit <= 90) || (unit >= 48 && unit <= 57) || unit === 46 || unit === 36;

function plainText(codes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let at = start; at < end; at++) {
    text += codes[at] === SPACE ? STORED_SPACE : unicodeOfCode(codes[at]);
  }
  return text;
}

/** A sign outside strings: itself where the language uses it, else as a byte. */
function looseText(code: number): string {
  const character = unicodeOfCode(code);
  return character !== undefined && '()><=+-*/;,'.includes(character)
    ? character
    : `[${hexByte(code)}]`;
}

function endOfName(codes: Uint8Array, start: number): number {
  let at = start + 1;
  while (isLetterCode(codes[at]) || isDigitCode(codes[at])) at++;
  if (codes[at] === DOLLAR) return at + 1;
  return codes[at] === SPACE ? endOfSpeltName(spellingOf(codes), start) : at;
}

function endOfLiteral(codes: Uint8Array, start: number): number {
  let at = start;
  while (isDigitCode(codes[at])) at++;
  const code = codes[at];
  if (code !== POINT && code !== LETTER_E && code !== SPACE) return at;
  const end = endOfSpeltNumber(spellingOf(codes), start);
  at = end;
  while (codes[at] === SPACE) at++;
  return codes[at] === NUMBER_MARKER ? at : end;
}

const spellingOf = (codes: Uint8Array): Spelling => ({
  unitAt: (at) => unicodeOfCode(codes[at])?.charCodeAt(0) ?? 0,
  after: (at) => at + 1,
});

/** A literal with its five bytes where they are not those of its digits. */
function literalText(codes: Uint8Array, start: number, end: number, making: NumberMaking): string {
  const digits = plainText(codes, start, end);
  if (codes[end] !== NUMBER_MARKER || end + NUMBER_SIZE >= codes.length) return `${digits}[=]`;
  const stored = codes.subarray(end + 1, end + 1 + NUMBER_SIZE);
  const value = numberOfLiteral(withoutSpaces(digits), making);
  if (!Number.isNaN(value)) {
    const plain = encodeNumber(value);
    if (plain.every((byte, index) => byte === stored[index])) return digits;
  }
  return `${digits}[=${hexBytes(stored)}]`;
}
