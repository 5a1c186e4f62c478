/**
 * The lexer: text of a listing to tokens. A line is `NUMBER STATEMENT`, or begins with `'` (the
 * editor's own comment) or `.` (a directive).
 *
 * The scanning is written out: Chevrotain's own lexer took longer than parser and tokeniser
 * together, and several milliseconds of every start.
 */
import type { TokenType } from 'chevrotain';
import { type Keyword, keyword, SIGN_TABLE } from './keywords.js';
import { endOfSpeltName, endOfSpeltNumber, type Spelling } from './spelling.js';
import {
  CloseBracket,
  Comma,
  CommentLine,
  DirectiveLine,
  DisplayBlock,
  Equals,
  Escape,
  Foreign,
  keywordAt,
  LineNumber,
  type ListingToken,
  Minus,
  NumberToken,
  OpenBracket,
  OpenString,
  OperatorToken,
  Rem,
  Semicolon,
  StrayLine,
  StringToken,
  Tokens,
  typeOfName,
} from './tokens.js';

// ───────────────────────────────── characters ─────────────────────────────────

const NEWLINE = 10;
const SPACE = 32;
const QUOTE = 34;
const DOLLAR = 36;
const APOSTROPHE = 39;
const STAR = 42;
const POINT = 46;
const LESS = 60;
const EQUALS = 61;
const MORE = 62;
const OPEN = 91;
const CLOSE = 93;
const LETTER_E = 101;

/** What an ASCII character can begin. */
const STARTS = { layout: 1, word: 2, number: 3, string: 4, escape: 5, sign: 6 } as const;
/** Nothing begins with those that have 0 here, or no place. */
const BEGINS = new Uint8Array(128);
for (const character of ' \t\v\f\r') BEGINS[character.charCodeAt(0)] = STARTS.layout;
for (let code = 65; code <= 90; code++) BEGINS[code] = BEGINS[code + 32] = STARTS.word;
for (let code = 48; code <= 57; code++) BEGINS[code] = STARTS.number;
BEGINS[POINT] = STARTS.number;
BEGINS[QUOTE] = STARTS.string;
BEGINS[OPEN] = STARTS.escape;

/** Signs of one character, by its code: their type, and the row of those that are operators. */
const SIGNS: ({ readonly type: TokenType; readonly row?: Keyword } | undefined)[] = new Array(
  128,
).fill(undefined);
for (const row of SIGN_TABLE) {
  const { word } = row;
  const signType = word === '-' ? Minus : word === '=' ? Equals : OperatorToken;
  SIGNS[word.charCodeAt(0)] = { type: signType, row };
}
for (const signType of [OpenBracket, CloseBracket, Comma, Semicolon]) {
  // The label is the sign in quotes.
  SIGNS[signType.LABEL!.charCodeAt(1)] = { type: signType };
}
SIGNS.forEach((sign, code) => {
  if (sign !== undefined) BEGINS[code] = STARTS.sign;
});

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isWordPart = (code: number): boolean =>
  code < 128 && (BEGINS[code] === STARTS.word || isDigit(code));

// ───────────────────────────────── lines ─────────────────────────────────

const DISPLAY =
  /\.display(?![A-Za-z])[^\n]*(?:\n(?![ \t]*\.end(?![A-Za-z]))[^\n]*){0,25}(?:\n[ \t]*\.end(?![A-Za-z])[^\n]*)?/iy;
const BLANK = /\s*/y;

/** All tokens of a short text. */
export function tokensOf(text: string): ListingToken[] {
  const tokens = new Tokens(text);
  for (let at = skipBlank(text, 0); at < text.length; ) {
    at = skipBlank(text, scanLine(text, at, tokens));
  }
  return tokens.list;
}

/**
 * The tokens of the statement that begins at `at`, read as the machine reads it when it is typed:
 * plain spaces within names and numbers are none of the layout, but stored.
 */
export function tokensAsTyped(text: string, at: number): ListingToken[] {
  const tokens = new Tokens(text);
  scanStatement(text, at, tokens, true);
  return tokens.list;
}

/**
 * Pushes the tokens of the line that begins at `at`: a line number and those of its statement, or
 * one token for a comment, a directive or a line that is none of these. Gives the offset of its
 * end. Linear in the text; never fails: what the language does not use is a Foreign token.
 */
export function scanLine(text: string, at: number, tokens: Tokens): number {
  const code = text.charCodeAt(at);
  if (isDigit(code)) {
    let end = at + 1;
    while (isDigit(text.charCodeAt(end))) end++;
    tokens.add(LineNumber, at, end);
    return scanStatement(text, end, tokens);
  }
  return scanOther(text, at, code, tokens);
}

/** Where the next line that is not blank begins. */
export function skipBlank(text: string, start: number): number {
  let at = start;
  while (text.charCodeAt(at) === NEWLINE) at++;
  if (isDigit(text.charCodeAt(at))) return at;
  BLANK.lastIndex = at;
  BLANK.exec(text);
  return BLANK.lastIndex;
}

function scanOther(text: string, at: number, code: number, tokens: Tokens): number {
  DISPLAY.lastIndex = at;
  if (DISPLAY.test(text)) {
    tokens.add(DisplayBlock, at, DISPLAY.lastIndex);
    return DISPLAY.lastIndex;
  }
  const tokenType = code === POINT ? DirectiveLine : code === APOSTROPHE ? CommentLine : StrayLine;
  const end = endOfLine(text, at);
  tokens.add(tokenType, at, end);
  return end;
}

/** Where the line of this offset ends. */
export function endOfLine(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  return end < 0 ? text.length : end;
}

/** Pushes the tokens of a statement; gives the offset of the end of its line. */
function scanStatement(text: string, start: number, tokens: Tokens, typed = false): number {
  let at = start;
  while (at < text.length) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE) break;
    const begins = BEGINS[code];
    if (begins === STARTS.layout) {
      at++;
      continue;
    }
    at = endOfToken(text, at, code, begins, tokens, typed);
  }
  return at;
}

/** Pushes the token at `at` (none for white space beyond ASCII); gives the offset after it. */
function endOfToken(
  text: string,
  at: number,
  code: number,
  begins: number,
  tokens: Tokens,
  typed: boolean,
): number {
  let end = at;
  switch (begins) {
    case STARTS.word:
      return scanWord(text, at, tokens, typed);
    case STARTS.number:
      end = endOfNumber(text, at, typed);
      tokens.add(NumberToken, at, end);
      return end;
    case STARTS.string: {
      end = endOfString(text, at);
      const open = end < 0;
      if (open) end = endOfLine(text, at);
      tokens.add(open ? OpenString : StringToken, at, end);
      return end;
    }
    case STARTS.escape:
      end = endOfEscape(text, at);
      if (end === at) break;
      tokens.add(Escape, at, end);
      return end;
    case STARTS.sign:
      return scanSign(text, at, code, tokens);
  }
  const character = String.fromCodePoint(text.codePointAt(at)!);
  end = at + character.length;
  if (character.trim() !== '') tokens.add(Foreign, at, end);
  return end;
}

/** word: letter { letter | digit } [ $ ]. REM takes the rest of the line; GO TO is one word. */
function scanWord(text: string, at: number, tokens: Tokens, typed: boolean): number {
  let end = at + 1;
  while (isWordPart(text.charCodeAt(end))) end++;
  if (text.charCodeAt(end) === DOLLAR) end++;
  const found = keywordAt(text, at, end);
  if (found === undefined) {
    const go = scanGo(text, at, end, tokens);
    if (go > 0) return go;
    if (mayGoOn(text, end, typed)) {
      const isKeyword = (start: number, to: number) => keywordAt(text, start, to) !== undefined;
      end = endOfSpeltName(spellingOf(text, typed), at, isKeyword);
    }
    tokens.add(typeOfName(text, end), at, end);
    return end;
  }
  if (found.type === Rem) {
    end = endOfRem(text, end);
    tokens.add(Rem, at, end);
  } else tokens.add(found.type, at, end, found.keyword);
  return end;
}

const GO = /GO[ \t]+(TO|SUB)(?![A-Za-z0-9$])/iy;

/** `GO TO` and `GO SUB`; 0 where it is neither. */
function scanGo(text: string, at: number, end: number, tokens: Tokens): number {
  if (end - at === 2 && (text.charCodeAt(at) | 32) === 103) {
    GO.lastIndex = at;
    const go = GO.exec(text);
    if (go !== null) {
      const { type: goType, keyword } = keywordAt(`GO${go[1]}`, 0, 2 + go[1].length)!;
      tokens.add(goType, at, GO.lastIndex, keyword);
      return GO.lastIndex;
    }
  }
  return 0;
}

const STORED_SPACE = /\[[ \t]*sp[ \t]*\]/iy;

/** One past the `[sp]` that begins here; the offset itself where none does. */
function afterStoredSpace(text: string, at: number): number {
  if (text.charCodeAt(at) !== OPEN) return at;
  STORED_SPACE.lastIndex = at;
  return STORED_SPACE.test(text) ? STORED_SPACE.lastIndex : at;
}

/** Behind the first characters of a name or a number: does a space come that is stored in it? */
function mayGoOn(text: string, at: number, typed: boolean): boolean {
  const code = text.charCodeAt(at);
  return code === OPEN ? afterStoredSpace(text, at) > at : typed && code === SPACE;
}

/** The characters of a text, `[sp]` as the space that it stands for; a plain one where it is `typed`. */
function spellingOf(text: string, typed: boolean): Spelling {
  return {
    unitAt(at) {
      const code = text.charCodeAt(at);
      if (code === OPEN) return afterStoredSpace(text, at) > at ? SPACE : 0;
      if (code === SPACE) return typed ? SPACE : 0;
      return code >= 97 && code <= 122 ? code - 32 : code;
    },
    after: (at) => Math.max(at + 1, afterStoredSpace(text, at)),
  };
}

/** The end of the line, but a bracket that holds only bytes may go on over several lines. */
function endOfRem(text: string, start: number): number {
  for (let at = start; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE) return at;
    if (code !== OPEN) continue;
    BYTES.lastIndex = at;
    if (BYTES.test(text)) at = BYTES.lastIndex - 1;
  }
  return text.length;
}

const BYTES = /\[[0-9A-F \t\r\n]*\]/iy;

/**
 * A number as `spelling.ts` has it, the spaces stored behind it, and `[=…]`: typed, its bytes come
 * behind all of these spaces.
 */
export function endOfNumber(text: string, start: number, typed = false): number {
  let at = start;
  while (isDigit(text.charCodeAt(at))) at++;
  const code = text.charCodeAt(at);
  // Most are digits alone.
  if (code === POINT || (code | 32) === LETTER_E || mayGoOn(text, at, typed)) {
    at = endOfSpeltNumber(spellingOf(text, typed), start);
    for (let next = afterStoredSpace(text, at); next > at; next = afterStoredSpace(text, at))
      at = next;
  }
  if (text.charCodeAt(at) === OPEN && text.charCodeAt(at + 1) === EQUALS) {
    return endOfEscape(text, at);
  }
  return at;
}

/** The end of a string that begins at `offset`, or -1. Brackets may hold quotes: `"A[~"]B"`. */
export function endOfString(text: string, offset: number): number {
  for (let at = offset + 1; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === NEWLINE) return -1;
    if (code === QUOTE) {
      if (text.charCodeAt(at + 1) !== QUOTE) return at + 1;
      at++;
    } else if (code === OPEN) {
      at = Math.max(at, endOfEscape(text, at) - 1);
    }
  }
  return -1;
}

/**
 * One past the `]` of the bracket at `at`; `at` itself where none closes it on that line, or where
 * another opens before.
 */
function endOfEscape(text: string, at: number): number {
  for (let end = at + 1; end < text.length; end++) {
    const code = text.charCodeAt(end);
    if (code === CLOSE) return end + 1;
    if (code === NEWLINE || code === OPEN) break;
  }
  return at;
}

/** `**`, `<=`, `>=` and `<>` are one sign, and keywords; every other sign is one character. */
function scanSign(text: string, at: number, code: number, tokens: Tokens): number {
  const next = text.charCodeAt(at + 1);
  const two =
    (code === STAR && next === STAR) ||
    (code === LESS && (next === EQUALS || next === MORE)) ||
    (code === MORE && next === EQUALS);
  if (two) {
    tokens.add(OperatorToken, at, at + 2, keyword(text.slice(at, at + 2)));
    return at + 2;
  }
  const sign = SIGNS[code]!;
  tokens.add(sign.type, at, at + 1, sign.row);
  return at + 1;
}
