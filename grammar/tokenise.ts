/**
 * Tokenising: the tokens of a statement to the codes that the machine stores for it. A keyword is
 * its one code; names, signs and digits are a code for each character; a number's digits are
 * followed by a marker and its five bytes (the manual, chapter 27). The inverse of detokenise.ts.
 */
import type { TokenType } from 'chevrotain';
import { type NumberMaking, numberOfLiteral } from '../src/machine/arithmetic/decimal.js';
import { codeOfUnicode, NUMBER_MARKER, QUOTE, REM, SPACE } from '../src/machine/characters.js';
import { NUMBER_SIZE, writeNumber } from '../src/machine/numbers.js';
import { HIDDEN_SIZE } from '../src/machine/stored-codes.js';
import { withoutSpaces } from './spelling.js';
import {
  type ByteBuffer,
  type Include,
  readGivenBytes,
  readLooseEscape,
  readRem,
  readString,
} from './text.js';
import {
  Escape,
  Foreign,
  type ListingToken,
  NumberName,
  NumberToken,
  OpenString,
  Rem,
  StringName,
  StringToken,
} from './tokens.js';
import type { Problem } from './tree.js';

/** Tokenises one statement after the other into one buffer; holds what came of the last. */
export class Tokeniser {
  /** How many of the statement's codes are hidden: a marker and five bytes for each number. */
  hidden = 0;
  /** Has it bytes outside strings and REM? Such a statement is stored as it stands and not checked. */
  unchecked = false;
  /** What is wrong with the characters of its strings and REM. */
  problems: Problem[] = [];
  /** Its tokens that stand for nothing: no form of the notation, or no character of the language. */
  strange: ListingToken[] = [];
  /** The values of its literals, in the order of their tokens. */
  readonly values: number[] = [];
  /** Where the codes of its strings and REM stand in `codes`: first, and one past the last, of each. */
  readonly places: number[] = [];
  /** How many of these two there are: the lists are used again for the next statement. */
  private literals = 0;
  private texts = 0;

  constructor(
    public codes: ByteBuffer,
    private readonly making: NumberMaking,
    private readonly include?: Include,
  ) {}

  /** Pushes the codes of a statement. */
  push(tokens: readonly ListingToken[]): void {
    this.hidden = 0;
    this.unchecked = false;
    if (this.problems.length > 0) this.problems = [];
    if (this.strange.length > 0) this.strange = [];
    this.literals = 0;
    this.texts = 0;
    const { codes } = this;
    for (const token of tokens) {
      const type = token.tokenType;
      if (token.payload !== undefined) codes.push(token.payload.code);
      else if (type === NumberName || type === StringName) {
        codes.pushLetters(token.text, token.startOffset, token.end);
      } else if (type === NumberToken) this.pushNumber(token);
      else this.pushToken(token, type);
    }
  }

  private pushToken(token: ListingToken, type: TokenType): void {
    const { codes } = this;
    if (type === StringToken) {
      codes.push(QUOTE);
      this.places[this.texts++] = codes.length;
      readString(token, codes, this.problems);
      this.places[this.texts++] = codes.length;
      codes.push(QUOTE);
    } else if (type === Rem) {
      codes.push(REM);
      this.places[this.texts++] = codes.length;
      readRem(token, codes, this.problems, this.include);
      this.places[this.texts++] = codes.length;
    } else if (type === Escape) {
      const stands = readLooseEscape(token.image);
      if (stands === undefined) this.strange.push(token);
      else codes.pushAll(stands);
      if (!isStoredSpace(token)) this.unchecked ||= stands !== undefined;
    } else if (type === Foreign || type === OpenString) {
      this.strange.push(token);
      codes.push(codeOfUnicode(token.image) ?? SPACE);
    } else codes.pushLetters(token.text, token.startOffset, token.end);
  }

  private pushNumber(token: ListingToken): void {
    const { codes } = this;
    const { image, startOffset } = token;
    const bracket = image.indexOf('[=');
    const text = bracket < 0 ? image : image.slice(0, bracket);
    codes.pushLetters(token.text, startOffset, startOffset + text.length);
    const given = bracket < 0 ? undefined : readGivenBytes(image.slice(bracket + 2, -1));
    const value =
      given === undefined ? numberOfLiteral(withoutSpaces(text), this.making) : Number.NaN;
    this.values[this.literals++] = value;
    if (given?.length === 0) return;
    codes.push(NUMBER_MARKER);
    this.hidden += HIDDEN_SIZE;
    codes.pushAll(given ?? NO_VALUE);
    if (!Number.isNaN(value)) writeNumber(value, codes.bytes, codes.length - NUMBER_SIZE);
  }
}

const NO_VALUE = new Uint8Array(NUMBER_SIZE);

/** `[sp]`: a space that is stored outside strings and REM, where it means nothing to the machine. */
export function isStoredSpace(token: ListingToken): boolean {
  return token.tokenType === Escape && /^\[\s*sp\s*\]$/i.test(token.image);
}
