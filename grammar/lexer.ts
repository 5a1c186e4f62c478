/**
 * The lexer: text of a listing to tokens. A line is `NUMBER STATEMENT`, or begins with `'` (the
 * editor's own comment) or `.` (a directive). Words become keywords in a second step, by the table,
 * because a keyword is a whole word: TOTAL and PRINTER are names.
 */
import { createToken, type IToken, Lexer, type TokenType } from 'chevrotain';
import { KEYWORD_TABLE, type Keyword } from './keywords.js';

/** A token of a listing; words that are keywords carry their row of the table. */
export interface ListingToken extends IToken {
  payload?: Keyword;
  /** What a literal stands for, once it was read: the codes of a string or a REM, a number's value. */
  codes?: Uint8Array;
  value?: number;
}

/** Characters that a token can begin with: given, so that no pattern has to be taken apart for it. */
const DIGITS = [...'0123456789'];
/** Everything else, as Chevrotain groups it: one by one below 256, by 255s above. */
const ANYTHING = Array.from({ length: 480 }, (_, at) =>
  at < 224 ? at + 32 : (at - 223) * 255 + 1,
);
const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz'];

// ───────────────────────────────── at the start of a line ─────────────────────────────────

export const LineNumber = createToken({
  name: 'LineNumber',
  pattern: /\d+/,
  start_chars_hint: DIGITS,
  push_mode: 'statement',
});
export const CommentLine = createToken({
  name: 'CommentLine',
  pattern: /'[^\n]*/,
  start_chars_hint: ["'"],
});
/** `.display` and its rows, up to `.end`. */
export const DisplayBlock = createToken({
  name: 'DisplayBlock',
  start_chars_hint: ['.'],
  pattern:
    /\.display(?![A-Za-z])[^\n]*(?:\n(?![ \t]*\.end(?![A-Za-z]))[^\n]*){0,25}(?:\n[ \t]*\.end(?![A-Za-z])[^\n]*)?/i,
  line_breaks: true,
});
export const DirectiveLine = createToken({
  name: 'DirectiveLine',
  pattern: /\.[^\n]*/,
  start_chars_hint: ['.'],
});
/** A line that is none of these: an error, but only its own. */
export const StrayLine = createToken({
  name: 'StrayLine',
  pattern: /[^\s][^\n]*/,
  start_chars_hint: ANYTHING,
});
const BlankLines = createToken({
  name: 'BlankLines',
  pattern: /\s+/,
  start_chars_hint: [...'\t\n\v\f\r', ...ANYTHING],
  group: Lexer.SKIPPED,
  line_breaks: true,
});

// ───────────────────────────────── in a statement ─────────────────────────────────

export const EndOfLine = createToken({
  name: 'EndOfLine',
  label: 'the end of the line',
  pattern: /\n/,
  start_chars_hint: ['\n'],
  pop_mode: true,
  line_breaks: true,
});
const Layout = createToken({
  name: 'Layout',
  pattern: /[ \t\r\f\v\u00a0\u2000-\u200b\u202f\u3000\ufeff]+/,
  start_chars_hint: [...' \t\r\f\v\u00a0\u2000\u200b\u202f\u3000\ufeff'],
  group: Lexer.SKIPPED,
  line_breaks: false,
});
/** A literal, with the bytes that the listing gives for it: `100[=82 40 00 00 00]`. */
export const NumberToken = createToken({
  name: 'Number',
  label: 'a number',
  pattern: /(?:\d+\.?\d*|\.\d+)(?:E[+-]?\d+)?(?:\[=[^\]\n]*\])?/i,
  start_chars_hint: [...DIGITS, '.'],
});
/** REM with its text, to the end of the line; bytes in brackets may go on over several lines. */
export const Rem = createToken({
  name: 'REM',
  label: 'REM',
  pattern: /REM(?![A-Za-z0-9$])(?:\[[0-9A-F \t\r\n]*\]|[^\n])*/i,
  start_chars_hint: ['R', 'r'],
  line_breaks: true,
});
/** `GO TO` and `GO SUB` are read as one word. */
const GoWord = createToken({
  name: 'GoWord',
  pattern: /GO[ \t]+(?:TO|SUB)(?![A-Za-z0-9$])/i,
  start_chars_hint: ['G', 'g'],
});
const Word = createToken({
  name: 'Word',
  pattern: /[A-Za-z][A-Za-z0-9]*\$?/,
  start_chars_hint: LETTERS,
});
export const StringToken = createToken({
  name: 'String',
  label: 'a string',
  pattern: { exec: matchString },
  line_breaks: false,
  start_chars_hint: ['"'],
});
export const OpenString = createToken({
  name: 'OpenString',
  pattern: /"[^\n]*/,
  start_chars_hint: ['"'],
});
/** `[sp]`, `[F5]`, `[PRINT]` outside strings and REM. */
export const Escape = createToken({
  name: 'Escape',
  pattern: /\[[^\]\n]*\]/,
  start_chars_hint: ['['],
});
/** A character that the machine's language does not use: what no pattern matches. */
export const Foreign = createToken({
  name: 'Foreign',
  label: 'a character of another language',
  pattern: Lexer.NA,
});

export const Minus = createToken({ name: 'Minus', label: '"-"', pattern: '-' });
export const Equals = createToken({ name: 'Equals', label: '"="', pattern: '=' });
/** Every other operator that stands between two values. */
export const OperatorToken = createToken({
  name: 'Operator',
  label: 'an operator',
  pattern: /\*\*|<=|>=|<>|[+*/<>]/,
  start_chars_hint: [...'*<>+/'],
});
export const OpenBracket = createToken({ name: 'OpenBracket', label: '"("', pattern: '(' });
export const CloseBracket = createToken({ name: 'CloseBracket', label: '")"', pattern: ')' });
export const Comma = createToken({ name: 'Comma', label: '","', pattern: ',' });
export const Semicolon = createToken({ name: 'Semicolon', label: '";"', pattern: ';' });

// ───────────────────────────────── what words become ─────────────────────────────────

const ofWord = (name: string, label = name) => createToken({ name, label, pattern: Lexer.NA });

export const NumberName = ofWord('NumberName', 'a name');
export const StringName = ofWord('StringName', 'a string name');
export const FunctionToken = ofWord('Function', 'a function');
/** RND, PI and INKEY$. */
export const ConstantToken = ofWord('Constant', 'a value');
/** Commands that take nothing; perhaps one value; one value; two values. */
export const BareCommand = ofWord('BareCommand', 'a command');
export const OptionalCommand = ofWord('OptionalCommand', 'a command');
export const OneCommand = ofWord('OneCommand', 'a command');
export const TwoCommand = ofWord('TwoCommand', 'a command');
/** PRINT and LPRINT. */
export const PrintCommand = ofWord('PrintCommand', 'PRINT');
export const Let = ofWord('LET');
export const Input = ofWord('INPUT');
export const Dim = ofWord('DIM');
export const For = ofWord('FOR');
export const Next = ofWord('NEXT');
export const If = ofWord('IF');
export const Then = ofWord('THEN');
export const To = ofWord('TO');
export const Step = ofWord('STEP');
export const At = ofWord('AT');
export const Tab = ofWord('TAB');
export const Not = ofWord('NOT');

const OWN_TOKENS = [Let, Input, Dim, For, Next, If, Then, To, Step, At, Tab, Not];

function typeOfKeyword(keyword: Keyword): TokenType {
  if (keyword.kind === 'simple') {
    if (keyword.takes.length === 0) return BareCommand;
    if (keyword.optional) return OptionalCommand;
    return keyword.takes.length === 1 ? OneCommand : TwoCommand;
  }
  if (keyword.kind === 'function') return FunctionToken;
  if (keyword.kind === 'constant') return ConstantToken;
  if (keyword.word === 'PRINT' || keyword.word === 'LPRINT') return PrintCommand;
  return OWN_TOKENS.find((type) => type.name === keyword.word) ?? OperatorToken;
}

const STATEMENT_TOKENS = [
  Layout,
  EndOfLine,
  Rem,
  GoWord,
  Word,
  NumberToken,
  StringToken,
  OpenString,
  Escape,
  Minus,
  Equals,
  OperatorToken,
  OpenBracket,
  CloseBracket,
  Comma,
  Semicolon,
];

const WORD_TOKENS = [
  Foreign,
  NumberName,
  StringName,
  FunctionToken,
  ConstantToken,
  BareCommand,
  OptionalCommand,
  OneCommand,
  TwoCommand,
  PrintCommand,
  ...OWN_TOKENS,
];

/** Every token type that the parser can meet. */
export const PARSER_TOKENS: TokenType[] = [...STATEMENT_TOKENS, ...WORD_TOKENS];

/** The end of a string that begins at `offset`, or -1. Brackets may hold quotes: `"A[~"]B"`. */
export function endOfString(text: string, offset: number): number {
  for (let at = offset + 1; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === 10) return -1;
    if (code === 34) {
      if (text.charCodeAt(at + 1) !== 34) return at + 1;
      at++;
    } else if (code === 91) {
      at = endOfEscape(text, at) - 1;
    }
  }
  return -1;
}

/** One past the `]` of the bracket at `at`, or past the `[` where none closes it on that line. */
function endOfEscape(text: string, at: number): number {
  for (let end = at + 1; end < text.length; end++) {
    const code = text.charCodeAt(end);
    if (code === 93) return end + 1;
    if (code === 10 || code === 91) break;
  }
  return at + 1;
}

function matchString(text: string, offset: number): RegExpExecArray | null {
  const end = text.charCodeAt(offset) === 34 ? endOfString(text, offset) : -1;
  return end < 0 ? null : ([text.slice(offset, end)] as unknown as RegExpExecArray);
}

/** Nobody reads the lexer's own messages: what it does not match becomes a Foreign token. */
const SILENT = {
  buildUnexpectedCharactersMessage: () => '',
  buildUnableToPopLexerModeMessage: () => '',
};

let lexer: Lexer | undefined;
let keywordTypes: Map<string, { type: TokenType; keyword: Keyword }>;

/** Made at the first use: a command that reads no listing does not wait for it. */
function theLexer(): Lexer {
  if (lexer === undefined) {
    lexer = new Lexer(
      {
        modes: {
          line: [BlankLines, LineNumber, CommentLine, DisplayBlock, DirectiveLine, StrayLine],
          statement: STATEMENT_TOKENS,
        },
        defaultMode: 'line',
      },
      { positionTracking: 'onlyOffset', skipValidations: true, errorMessageProvider: SILENT },
    );
    keywordTypes = new Map();
    for (const keyword of KEYWORD_TABLE) {
      const entry = { type: typeOfKeyword(keyword), keyword };
      keywordTypes.set(keyword.word, entry);
      keywordTypes.set(keyword.word.toLowerCase(), entry);
    }
  }
  return lexer;
}

/** The words of a listing as they are to be looked up: capitals, GO TO as GOTO. */
export function plainWord(image: string): string {
  return image.toUpperCase().replace(/[ \t]+/, '');
}

/** The token of a word that stands at `offset`: a keyword by the table, or a name. */
export function tokenOfWord(image: string, offset: number): ListingToken {
  const token = wordToken(image, offset);
  settleWord(token);
  return token;
}

/** A token made by hand, for a reading that the text does not show as it stands. */
export function wordToken(image: string, offset: number, type: TokenType = Word): ListingToken {
  const tokenType = image === 'REM' && type === Word ? Rem : type;
  return { image, startOffset: offset, tokenType, tokenTypeIdx: tokenType.tokenTypeIdx! };
}

/** Capitals and digits alone: what is not in the table as it stands is not in it at all. */
function isPlain(image: string): boolean {
  for (let at = 0; at < image.length; at++) {
    const code = image.charCodeAt(at);
    if (code > 90 || code === 32 || code === 9) return false;
  }
  return true;
}

/** Gives a word its final type and, for a keyword, its row of the table. */
function settleWord(token: ListingToken): void {
  const { image } = token;
  const found =
    keywordTypes.get(image) ?? (isPlain(image) ? undefined : keywordTypes.get(plainWord(image)));
  let type: TokenType;
  if (found === undefined)
    type = image.charCodeAt(image.length - 1) === 36 ? StringName : NumberName;
  else {
    type = found.type;
    token.payload = found.keyword;
  }
  token.tokenType = type;
  token.tokenTypeIdx = type.tokenTypeIdx!;
}

/** Characters that are lexed at a time: so much that tokens die young, and memory stays small. */
const PIECE = 1 << 13;

/** All tokens of a short text: see tokenPieces. */
export function tokensOf(text: string): ListingToken[] {
  return [...tokenPieces(text)].flat();
}

/**
 * All tokens of a text, in runs of whole lines. Words have their final types; keywords carry their
 * row of the table as payload. Linear in the text; never fails: what the language does not use is a
 * Foreign token.
 */
export function* tokenPieces(text: string): Generator<ListingToken[]> {
  for (let start = 0; start < text.length; ) {
    const end = endOfPiece(text, start);
    yield pieceTokens(text.slice(start, end), start);
    start = end;
  }
}

/** One past a line end, at which nothing that goes over several lines is open. */
function endOfPiece(text: string, start: number): number {
  for (let size = PIECE; start + size < text.length; size *= 2) {
    const end = text.indexOf('\n', start + size) + 1;
    if (end === 0) break;
    const piece = text.slice(start, end);
    const displayOpen = /\.display(?!.*\n[ \t]*\.end)/is.test(piece);
    if (piece.lastIndexOf('[') <= piece.lastIndexOf(']') && !displayOpen) return end;
  }
  return text.length;
}

/** The tokens of a piece of the text that begins at `base`. */
function pieceTokens(piece: string, base: number): ListingToken[] {
  const { tokens, errors } = theLexer().tokenize(piece) as {
    tokens: ListingToken[];
    errors: { offset: number; length: number }[];
  };
  for (const { offset, length } of errors) {
    let at = offset;
    for (const character of piece.slice(offset, offset + length)) {
      if (character.trim() !== '') tokens.push(wordToken(character, at, Foreign));
      at += character.length;
    }
  }
  if (errors.length > 0) tokens.sort((a, b) => a.startOffset - b.startOffset);
  for (const token of tokens) {
    token.startOffset += base;
    if (token.tokenType === Word || token.tokenType === GoWord) settleWord(token);
  }
  return tokens;
}
