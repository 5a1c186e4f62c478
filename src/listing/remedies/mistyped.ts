/** A statement that is none, or not what was meant, and what its words may be changed to. */
import { tokensOf } from '../../../grammar/lexer.js';
import { parseStatement } from '../../../grammar/parser.js';
import { ByteBuffer, readRem, readString } from '../../../grammar/text.js';
import {
  type ListingToken,
  NumberName,
  NumberToken,
  Rem,
  StringName,
  StringToken,
} from '../../../grammar/tokens.js';
import type { Problem, Span } from '../../../grammar/tree.js';
import { isForeign } from '../other-dialects.js';

/** What was meant. */
export interface Remedy {
  /** What is wrong, in a few words. */
  readonly message: string;
  readonly why?: string;
  /** Its name among the messages; `syntax` unless given. */
  readonly rule?: string;
  /** The statements to write, each on a line of its own. All of them read without error. */
  readonly lines: readonly string[];
  /** What else is to be minded. */
  readonly mind?: string;
  /** Its place; that of the token where the statement broke off unless given. */
  readonly span?: Span;
}

/** Looks at a statement that broke off at the token `at`; gives what may be meant, likeliest first. */
export type Recogniser = (line: Mistyped, at: number) => readonly Remedy[] | Remedy | undefined;

/** What is said where the machine has nothing of this name, and of what it has in its place. */
export const noSuch = (name: string, instead?: string): Pick<Remedy, 'message'> => ({
  message: `this machine has no ${name}${instead === undefined ? '' : `: ${instead}`}`,
});

export class Mistyped {
  readonly words: readonly string[];

  constructor(readonly tokens: readonly ListingToken[]) {
    this.words = tokens.map(({ image }) => image.toUpperCase());
  }

  get length(): number {
    return this.tokens.length;
  }

  /** The token's characters in capitals; empty where there is none. */
  word(at: number): string {
    return this.words[at] ?? '';
  }

  /** The source from one token up to, not including, another. */
  text(from: number, to = this.length): string {
    if (from < 0 || from >= Math.min(to, this.length)) return '';
    const { text, startOffset } = this.tokens[from];
    return text
      .slice(startOffset, (this.tokens[to - 1] ?? this.tokens[this.length - 1]).end)
      .trim();
  }

  /** The statement with other words in place of some of its tokens. */
  put(from: number, to: number, words: string): string {
    const [first, last] = [this.tokens[0], this.tokens[this.length - 1]];
    const { text } = first;
    const begins = this.tokens[from]?.startOffset ?? last.end;
    const ends = to > from ? (this.tokens[to - 1] ?? last).end : begins;
    return `${text.slice(first.startOffset, begins)}${words}${text.slice(ends, last.end)}`.trim();
  }

  /** The statement without some of its tokens, and with one space where they stood between two. */
  without(from: number, to = from + 1): string {
    return this.put(from, to, '').replace(/ {2,}/, ' ');
  }

  /**
   * The statement with a product, or a sum, in place of some of its tokens: in brackets where what
   * stands around it would take a part of it.
   */
  putValue(from: number, to: number, value: string, kind: 'product' | 'sum' = 'product'): string {
    const taking = kind === 'sum' ? ['**', '*', '/'] : ['**'];
    const isAlone = BEGINS_VALUE.test(this.word(from - 1)) && !taking.includes(this.word(to));
    return this.put(from, to, isAlone ? value : `(${value})`);
  }

  /** The statement with TO where a point in each of two numbers, `1.` and `.9`, parts them; else undefined. */
  pointsAsTo(at: number): string | undefined {
    const [left, right] = [this.word(at - 1), this.word(at)];
    if (!this.isNumber(at - 1) || !this.isNumber(at)) return undefined;
    if (!left.endsWith('.') || !right.startsWith('.')) return undefined;
    return this.put(at - 1, at + 1, `${left.slice(0, -1)} TO ${right.slice(1)}`);
  }

  span(from: number, to = from + 1): Span {
    const last = this.tokens[this.length - 1];
    const first = this.tokens[from] ?? last;
    return {
      start: first.startOffset,
      end: Math.max(first.end, (this.tokens[to - 1] ?? last).end),
    };
  }

  /** Where the command stands that the token belongs to: 0, or behind the last THEN before it. */
  commandOf(at: number): number {
    return this.words.lastIndexOf('THEN', at - 1) + 1;
  }

  isString(at: number): boolean {
    const type = this.tokens[at]?.tokenType;
    return type === StringToken || type === StringName;
  }

  isValue(at: number): boolean {
    const type = this.tokens[at]?.tokenType;
    return this.isString(at) || type === NumberName || type === NumberToken;
  }

  isName(at: number): boolean {
    const type = this.tokens[at]?.tokenType;
    return type === NumberName || type === StringName;
  }

  isText(at: number): boolean {
    return this.tokens[at]?.tokenType === StringToken;
  }

  /** Is it a name that is a word of another dialect? */
  isOther(at: number): boolean {
    return this.isName(at) && this.word(at).length > 2 && isForeign(this.word(at));
  }

  isNumber(at: number): boolean {
    return this.tokens[at]?.tokenType === NumberToken;
  }

  /** Do the two tokens touch? */
  touch(at: number): boolean {
    return this.tokens[at]?.end === this.tokens[at + 1]?.startOffset;
  }

  /** The token that closes the bracket at `open`, or -1. */
  closing(open: number): number {
    let depth = 0;
    for (let at = open; at < this.length; at++) {
      if (this.words[at] === '(') depth++;
      if (this.words[at] === ')' && --depth === 0) return at;
    }
    return -1;
  }

  /** The parts between the commas that stand in no bracket, from `from` up to `to`. */
  parts(from: number, to = this.length, signs: readonly string[] = [',']): string[] {
    const parts: string[] = [];
    let depth = 0;
    let begins = from;
    for (let at = from; at <= to; at++) {
      const word = at === to ? undefined : this.words[at];
      if (word === '(') depth++;
      if (word === ')') depth--;
      if (word !== undefined && (depth > 0 || !signs.includes(word))) continue;
      parts.push(this.text(begins, at));
      begins = at + 1;
    }
    return parts;
  }

  /** The IF that jumps past the command at `command` where its condition is true. */
  jumpOver(command: number): string {
    const condition = this.text(this.words.lastIndexOf('IF', command) + 1, command - 1);
    return `IF NOT (${condition}) THEN GOTO`;
  }

  /**
   * Statements on lines of their own in place of the command at `command`. Behind an IF each needs
   * the condition again, which holds only while none but the last may change it.
   */
  lines(command: number, statements: readonly string[]): readonly string[] | undefined {
    if (command === 0) return statements;
    const condition = this.words.slice(0, command);
    if (condition.some((word) => CHANGES_BY_ITSELF.has(word))) return undefined;
    const changes = statements.slice(0, -1).some((statement) => {
      const words = tokensOf(`1 ${statement}`).map(({ image }) => image.toUpperCase());
      if (QUIET.has(words[1])) return false;
      return words[1] !== 'LET' || condition.includes(words[2]);
    });
    if (changes) return undefined;
    return statements.map((statement) => `${this.text(0, command)} ${statement}`);
  }
}

/** What stands before a value that is no part of another. */
const BEGINS_VALUE = /^(?:=|PRINT|LPRINT|,|;|\(|TO|[<>]|<=|>=|<>)?$/;

/** A number alone is a line to go to. */
export const asStatement = (text: string): string =>
  /^\d+$/.test(text) ? `GOTO ${text}` : isAssignment(text) ? `LET ${text}` : text;
const isAssignment = (text: string): boolean => /^[A-Z]\w*\$?\s*(?:\([^=]*\))?\s*=/i.test(text);

const CHANGES_BY_ITSELF = new Set(['RND', 'INKEY$', 'PEEK', 'USR']);
/** Commands that no condition can notice. */
const QUIET = new Set(['PRINT', 'LPRINT', 'CLS', 'SCROLL', 'PLOT', 'UNPLOT', 'PAUSE', 'COPY']);

/** Is this one statement, with nothing wrong in it? */
export function reads(statement: string): boolean {
  if (/[\n\r]/.test(statement)) return false;
  const [, ...tokens] = tokensOf(`1 ${statement}`);
  if (tokens.length === 0) return false;
  const { failure, problems } = parseStatement(tokens);
  if (failure !== undefined || problems.length > 0) return false;
  const inTexts: Problem[] = [];
  for (const token of tokens) {
    if (token.tokenType === StringToken) readString(token, new ByteBuffer(), inTexts);
    else if (token.tokenType === Rem) readRem(token, new ByteBuffer(), inTexts);
  }
  return inTexts.length === 0;
}
