/**
 * The tokens of a listing, and which keyword or name a word is. Words become keywords by the table,
 * because a keyword is a whole word: TOTAL and PRINTER are names. The types are Chevrotain's, for
 * its parser.
 */
import { createToken, type IToken, type TokenType } from 'chevrotain';
import { KEYWORD_TABLE, type Keyword } from './keywords.js';

/** A token of a listing: a stretch of its text. */
export class ListingToken implements IToken {
  tokenTypeIdx: number;

  constructor(
    public tokenType: TokenType,
    public text: string,
    public startOffset: number,
    /** One past the last character. */
    public end: number,
    /** The row of the table, for words and signs that are keywords. */
    public payload?: Keyword,
  ) {
    this.tokenTypeIdx = tokenType.tokenTypeIdx!;
  }

  /** Makes a token that is done with into another. */
  become(
    tokenType: TokenType,
    text: string,
    startOffset: number,
    end: number,
    payload?: Keyword,
  ): void {
    this.tokenType = tokenType;
    this.tokenTypeIdx = tokenType.tokenTypeIdx!;
    this.text = text;
    this.startOffset = startOffset;
    this.end = end;
    this.payload = payload;
  }

  /** The characters, keywords in capitals. Cut out only when asked for: most never are. */
  get image(): string {
    const { text, startOffset, end, payload } = this;
    if (payload?.word.length === end - startOffset) return payload.word;
    return text.slice(startOffset, end);
  }
}

/**
 * Tokens of a text. Those of a line that is done with are used again for the next: of a long
 * listing they would be more bytes than its tree, and the collector would come round so much sooner.
 */
export class Tokens {
  list: ListingToken[] = [];
  private readonly made: ListingToken[] = [];

  constructor(private readonly text: string) {}

  /** Begins an empty list; no token of the one before may be used any more. */
  restart(): void {
    this.list = [];
  }

  add(tokenType: TokenType, start: number, end: number, payload?: Keyword): void {
    const { list, made, text } = this;
    const old = made[list.length];
    if (old !== undefined) old.become(tokenType, text, start, end, payload);
    else made.push(new ListingToken(tokenType, text, start, end, payload));
    list.push(made[list.length]);
  }
}

const type = (name: string, label = name): TokenType => createToken({ name, label });

// ───────────────────────────────── at the start of a line ─────────────────────────────────

export const LineNumber = type('LineNumber');
export const CommentLine = type('CommentLine');
/** `.display` and its rows, up to `.end`. */
export const DisplayBlock = type('DisplayBlock');
export const DirectiveLine = type('DirectiveLine');
/** A line that is none of these: an error, but only its own. */
export const StrayLine = type('StrayLine');

// ───────────────────────────────── in a statement ─────────────────────────────────

/** A literal, with the bytes that the listing gives for it: `100[=82 40 00 00 00]`. */
export const NumberToken = type('Number', 'a number');
/** REM with its text, to the end of the line; bytes in brackets may go on over several lines. */
export const Rem = type('REM');
export const StringToken = type('String', 'a string');
export const OpenString = type('OpenString');
/** `[sp]`, `[F5]`, `[PRINT]` outside strings and REM. */
export const Escape = type('Escape');
/** A character that the machine's language does not use. */
export const Foreign = type('Foreign', 'a character of another language');
export const Minus = type('Minus', '"-"');
export const Equals = type('Equals', '"="');
/** Every other operator that stands between two values. */
export const OperatorToken = type('Operator', 'an operator');
export const OpenBracket = type('OpenBracket', '"("');
export const CloseBracket = type('CloseBracket', '")"');
export const Comma = type('Comma', '","');
export const Semicolon = type('Semicolon', '";"');

// ───────────────────────────────── words ─────────────────────────────────

export const NumberName = type('NumberName', 'a name');
export const StringName = type('StringName', 'a string name');

/** Is it the name of a variable? */
export const isName = ({ tokenType }: ListingToken): boolean =>
  tokenType === NumberName || tokenType === StringName;

export const FunctionToken = type('Function', 'a function');
/** RND, PI and INKEY$. */
export const ConstantToken = type('Constant', 'a value');
/** Commands that take nothing; perhaps one value; one value; two values. */
export const BareCommand = type('BareCommand', 'a command');
export const OptionalCommand = type('OptionalCommand', 'a command');
export const OneCommand = type('OneCommand', 'a command');
export const TwoCommand = type('TwoCommand', 'a command');
/** PRINT and LPRINT. */
export const PrintCommand = type('PrintCommand', 'PRINT');
export const Let = type('LET');
export const Input = type('INPUT');
export const Dim = type('DIM');
export const For = type('FOR');
export const Next = type('NEXT');
export const If = type('IF');
export const Then = type('THEN');
export const To = type('TO');
export const Step = type('STEP');
export const At = type('AT');
export const Tab = type('TAB');
export const Not = type('NOT');

const OWN_TOKENS = [Let, Input, Dim, For, Next, If, Then, To, Step, At, Tab, Not, Rem];

function typeOfKeyword(keyword: Keyword): TokenType {
  if (keyword.kind === 'simple') {
    if (keyword.takes.length === 0) return BareCommand;
    if (keyword.optional) return OptionalCommand;
    return keyword.takes.length === 1 ? OneCommand : TwoCommand;
  }
  if (keyword.kind === 'function') return FunctionToken;
  if (keyword.kind === 'constant') return ConstantToken;
  if (keyword.word === 'PRINT' || keyword.word === 'LPRINT') return PrintCommand;
  return OWN_TOKENS.find(({ name }) => name === keyword.word) ?? OperatorToken;
}

/** Every token type that the parser can meet. */
export const PARSER_TOKENS: TokenType[] = [
  ...[NumberToken, StringToken, OpenString, Escape, Foreign, Minus, Equals, OperatorToken],
  ...[OpenBracket, CloseBracket, Comma, Semicolon, NumberName, StringName, FunctionToken],
  ...[ConstantToken, BareCommand, OptionalCommand, OneCommand, TwoCommand, PrintCommand],
  ...OWN_TOKENS,
];

/** By the index of a token's type: is it one of these? */
export function tableOf(...types: TokenType[]): Uint8Array {
  // The indices of whatever else of this process makes tokens come before them.
  const indices = [...PARSER_TOKENS, ...types].map(({ tokenTypeIdx }) => tokenTypeIdx!);
  const table = new Uint8Array(Math.max(...indices) + 1);
  for (const type of types) table[type.tokenTypeIdx!] = 1;
  return table;
}

interface Entry {
  readonly type: TokenType;
  readonly keyword: Keyword;
}

/**
 * Keywords by their first two letters and their length, so that a word is looked up without making
 * a string of it. Few share a place.
 */
const KEYWORDS: (Entry[] | undefined)[] = new Array(1 << 14).fill(undefined);
const placeOf = (first: number, second: number, length: number): number =>
  ((first & 31) << 9) | ((second & 31) << 4) | length;
const LONGEST_KEYWORD = 15;

for (const keyword of KEYWORD_TABLE) {
  const { word } = keyword;
  if (!/^[A-Z]/.test(word)) continue;
  const place = placeOf(word.charCodeAt(0), word.charCodeAt(1), word.length);
  KEYWORDS[place] ??= [];
  KEYWORDS[place].push({ type: typeOfKeyword(keyword), keyword });
}

/** The keyword that stands in the text from `start` to `end`, in either case, or undefined. */
export function keywordAt(text: string, start: number, end: number): Entry | undefined {
  const length = end - start;
  if (length < 2 || length > LONGEST_KEYWORD) return undefined;
  const place = placeOf(text.charCodeAt(start), text.charCodeAt(start + 1), length);
  const entries = KEYWORDS[place];
  if (entries === undefined) return undefined;
  for (const entry of entries) if (isWordAt(entry.keyword.word, text, start)) return entry;
  return undefined;
}

/** Does this word of capitals stand there, in either case? */
function isWordAt(word: string, text: string, start: number): boolean {
  for (let at = 0; at < word.length; at++) {
    const wanted = word.charCodeAt(at);
    const found = text.charCodeAt(start + at);
    // A sign such as $ has no other case: 32 below D.
    if (wanted !== found && (wanted < 65 || wanted !== found - 32)) return false;
  }
  return true;
}

/** The token of the word that stands in the text from `start` to `end`: a keyword, or a name. */
export function tokenOfWord(text: string, start: number, end: number): ListingToken {
  const found = keywordAt(text, start, end);
  if (found !== undefined) return new ListingToken(found.type, text, start, end, found.keyword);
  return tokenOfName(text, start, end);
}

/** The token of the name that stands in the text from `start` to `end`. */
export function tokenOfName(text: string, start: number, end: number): ListingToken {
  return new ListingToken(typeOfName(text, end), text, start, end);
}

export function typeOfName(text: string, end: number): TokenType {
  return text[end - 1] === '$' ? StringName : NumberName;
}
