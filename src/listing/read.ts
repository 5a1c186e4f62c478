/** Text of a listing to its tree and its diagnostics. */
import { scanLine, skipBlank } from '../../grammar/lexer.js';
import { type ParsedStatement, parseTokenised } from '../../grammar/parser.js';
import { ByteBuffer, Codes, type Include } from '../../grammar/text.js';
import { isStoredSpace, Tokeniser } from '../../grammar/tokenise.js';
import {
  CommentLine,
  DirectiveLine,
  DisplayBlock,
  Escape,
  LineNumber,
  type ListingToken,
  Tokens,
} from '../../grammar/tokens.js';
import type { Item, Line, Problem, Statement } from '../../grammar/tree.js';
import type { NumberMaking } from '../machine/arithmetic/decimal.js';
import { sameBytes } from '../machine/bytes.js';
import { codeOfUnicode } from '../machine/characters.js';
import { MOST_LINE_BYTES, MOST_PROGRAM_BYTES } from '../machine/program-limits.js';
import { spaceWithin, wordsWithSpaces } from './as-typed.js';
import type { Diagnostic } from './diagnostics.js';
import { makingOf, readDirective } from './directives.js';
import { explainFailure, explainProblems, foreignProblem } from './explain.js';
import { joinPieces, type ReadListing } from './join-pieces.js';
import { unifyLineEnds } from './line-ends.js';
import { insteadOf } from './other-dialects.js';
import { statementText } from './print.js';
import { apartReadings } from './run-together.js';
import { tooLarge, tooManyBytes } from './too-large.js';

export interface ReadOptions {
  /** Gives the bytes of a file that a REM names; without it, such a REM is an error. */
  readonly include?: Include;
  /** No: nothing that takes milliseconds is tried to explain a mistake. Yes unless given. */
  readonly thorough?: boolean;
}

/**
 * Reads a listing. Every line is read for itself, so that an error in one never hides those of the
 * next. Never throws for what a text can hold; takes time linear in the text. A text that is larger
 * than any program is refused by one diagnostic, and not read (`machine/program-limits.ts`).
 */
export function readListing(text: string, options: ReadOptions = {}): ReadListing {
  const unified = unifyLineEnds(text);
  const refused = tooLarge(unified);
  if (refused !== undefined) return joinPieces(text, [], [{ severity: 'error', ...refused }]);
  const read = new ListingReader(unified, options, 'typed').read();
  // A directive anywhere says how all numbers are made: then they are read again.
  const making = makingOf(read.listing.items);
  if (making === 'typed') return { ...read, text };
  return { ...new ListingReader(unified, options, making).read(), text };
}

/**
 * Does a listing read without a diagnostic that `matters`? As readListing, but it ends at the first:
 * of a page that is no listing, no more is read than shows it.
 */
export function readsWithout(text: string, matters: (found: Diagnostic) => boolean): boolean {
  const unified = unifyLineEnds(text);
  if (tooLarge(unified) !== undefined) return false;
  const { diagnostics } = new ListingReader(unified, {}, 'typed').read(matters);
  return !diagnostics.some(matters);
}

/** Statements of which everything is tried to explain them: a page of nonsense must end too. */
const MOST_THOROUGH = 100;

/** Bytes of a block that holds the codes of many lines. */
const BLOCK = 1 << 14;

class LineNode extends Codes implements Line {
  readonly kind = 'line';

  constructor(
    block: Uint8Array,
    from: number,
    to: number,
    readonly number: number,
    readonly hidden: number,
    readonly statement: Statement | undefined,
    readonly start: number,
    readonly end: number,
  ) {
    super(block, from, to);
  }
}

/** Reads a text piece by piece: a piece is a line of the program, a comment or a directive. */
export class ListingReader {
  private readonly diagnostics: Diagnostic[] = [];
  private readonly items: Item[] = [];
  private readonly tokens: Tokens;
  /** The codes of many lines, one after the other: an array of its own for each costs more. */
  private codes: ByteBuffer;
  private lineStart = 0;
  /** Bytes of all lines. */
  private stored = 0;
  /** Statements that did not parse. */
  private failures = 0;
  private readonly tokeniser: Tokeniser;
  private readonly include: Include | undefined;

  constructor(
    private readonly text: string,
    private readonly options: ReadOptions,
    making: NumberMaking,
  ) {
    this.tokens = new Tokens(text);
    // Most texts store fewer codes than they have characters; where one stores more, it grows.
    this.codes = new ByteBuffer(Math.min(BLOCK, text.length));
    this.include = this.boundedInclude();
    this.tokeniser = new Tokeniser(this.codes, making, this.include);
  }

  /** Puts files into a line only until it is too long. */
  private boundedInclude(): Include | undefined {
    const { include } = this.options;
    if (include === undefined) return undefined;
    return (file) =>
      this.codes.length - this.lineStart > MOST_LINE_BYTES
        ? 'the line is too long without it'
        : include(file);
  }

  /** Reads the piece that begins at an offset; gives the offset of its end. */
  readPiece(at: number): number {
    const { text, tokens } = this;
    tokens.restart();
    const end = scanLine(text, at, tokens);
    const first = tokens.list.shift()!;
    if (first.tokenType === LineNumber) this.readLine(first, tokens.list);
    else this.readOther(first);
    return end;
  }

  /** What was read since this was last asked. */
  take(): { items: Item[]; diagnostics: Diagnostic[] } {
    return { items: this.items.splice(0), diagnostics: this.diagnostics.splice(0) };
  }

  /** Everything in one, or up to the first diagnostic that ends it. */
  read(ends?: (found: Diagnostic) => boolean): ReadListing {
    const { text } = this;
    for (let at = skipBlank(text, 0); at < text.length; at = skipBlank(text, at)) {
      const told = this.diagnostics.length;
      at = this.readPiece(at);
      if (ends !== undefined && this.diagnostics.slice(told).some(ends)) break;
      if (this.stored > MOST_PROGRAM_BYTES) {
        this.report('error', tooManyBytes(this.items.at(-1)!.start));
        break;
      }
    }
    return joinPieces(text, this.items, this.diagnostics);
  }

  private report(severity: Diagnostic['severity'], problem: Problem): void {
    this.diagnostics.push({ severity, ...problem });
  }

  private readOther(token: ListingToken): void {
    const start = token.startOffset;
    const text = token.image.trimEnd();
    const end = start + text.length;
    if (token.tokenType === CommentLine) {
      this.items.push({ kind: 'comment', text: text.slice(1), start, end });
    } else if (token.tokenType === DirectiveLine || token.tokenType === DisplayBlock) {
      const directive = readDirective(token.image, start, (problem) =>
        this.report('error', problem),
      );
      if (directive === undefined) return;
      this.items.push(directive);
    } else {
      this.report('error', {
        start,
        end,
        rule: 'no-line-number',
        message: 'this line has no line number',
        why: "a line begins with its number; or with ' for the editor's own comment, or . for a directive",
        help: 'write a number from 1 to 9999 before it',
      });
    }
  }

  private readLine(numberToken: ListingToken, tokens: ListingToken[]): void {
    const start = numberToken.startOffset;
    const end = this.endOfStatement(tokens.at(-1) ?? numberToken);
    const number = Number(numberToken.image);
    const statement = this.readStatement(tokens, end, numberToken.image);
    this.stored += this.codes.length - this.lineStart;
    const { bytes, length } = this.codes;
    const { lineStart } = this;
    const { hidden } = this.tokeniser;
    const line = new LineNode(bytes, lineStart, length, number, hidden, statement, start, end);
    this.items.push(line);
  }

  /** Where the last token ends, but for white space at the end of a REM. */
  private endOfStatement({ startOffset, end }: ListingToken): number {
    const last = this.text.charCodeAt(end - 1);
    if (last > 32 && last < 127) return end;
    return startOffset + this.text.slice(startOffset, end).trimEnd().length;
  }

  /** Leaves the statement's codes in `this.codes`; undefined where it has an error. */
  private readStatement(
    tokens: ListingToken[],
    end: number,
    numberImage: string,
  ): Statement | undefined {
    if (this.codes.length > BLOCK - BLOCK / 8) {
      this.codes = new ByteBuffer(BLOCK);
      this.tokeniser.codes = this.codes;
    }
    this.lineStart = this.codes.length;
    const stored = this.tokenise(tokens);
    const size = this.codes.length - this.lineStart;
    if (size > MOST_LINE_BYTES) {
      this.reportTooLong(tokens, end, size);
      return undefined;
    }
    const textProblems = problemsOf(stored);
    for (const problem of textProblems) this.report('error', problem);
    if (stored.unchecked) {
      for (const token of tokens) {
        if (isLikeSubscript(token)) this.report('warning', likeSubscript(token));
      }
      const start = tokens[0].startOffset;
      return textProblems.length > 0 ? undefined : { kind: 'unchecked', start, end };
    }
    const spoken = withoutSpaces(tokens);
    const parsed = parseTokenised(spoken, stored);
    if (parsed.failure === undefined) return this.settle(parsed, textProblems.length === 0, spoken);
    // A form in brackets that is none was reported already.
    if (parsed.failure.token?.tokenType === Escape) return undefined;
    const asked = this.options.thorough ?? true;
    const thorough = asked && ++this.failures <= MOST_THOROUGH;
    if (asked && this.failures === MOST_THOROUGH + 1) this.tellLessThorough(tokens[0], end);
    const failure = explainFailure(parsed.failure, spoken, end, thorough);
    // RANDOMIZE is no RAND of a variable OMIZE.
    const isDialect = spoken.length > 0 && insteadOf(spoken[0].image) !== undefined;
    if (isDialect) {
      this.report('error', failure);
      return undefined;
    }
    const apart = this.readApart(spoken, failure, numberImage);
    if (apart !== undefined) return this.settle(apart, textProblems.length === 0, spoken);
    return undefined;
  }

  private tellLessThorough({ startOffset: start }: ListingToken, end: number): void {
    this.report('note', {
      start,
      end,
      rule: 'many-errors',
      message: `from here on, after ${MOST_THOROUGH} statements with errors, less is tried to say what to write instead`,
      why: 'a text with so many is seldom a listing of this machine',
      help: 'mend those before, and ask again',
    });
  }

  private reportTooLong(tokens: readonly ListingToken[], end: number, size: number): void {
    this.report('error', {
      start: tokens[0].startOffset,
      end,
      rule: 'line-too-long',
      message: `this line has ${size} bytes of text`,
      why: 'no machine has more than 48K, and none takes a line of more than its RAM',
      help: 'split it',
    });
    // Its codes would keep a block of their own.
    this.codes.length = this.lineStart;
  }

  private settle(
    parsed: ParsedStatement,
    textIsGood: boolean,
    tokens: readonly ListingToken[],
  ): Statement | undefined {
    const { problems } = parsed;
    // Mostly there are none, and nothing is to be explained.
    const explained = problems.length === 0 ? [] : explainProblems(problems, this.text, tokens);
    for (const problem of explained) {
      this.report('error', problem);
    }
    return parsed.problems.length === 0 && textIsGood ? parsed.statement : undefined;
  }

  /** Tries the words of a failed line taken apart; reports what came of it. */
  private readApart(
    tokens: ListingToken[],
    failure: Problem,
    numberImage: string,
  ): ParsedStatement | undefined {
    const codesOf = (candidate: ListingToken[]): Uint8Array => {
      this.tokenise(candidate);
      return this.codes.from(this.lineStart);
    };
    const readings = apartReadings(
      tokens,
      failure.start,
      (a, b) => sameBytes(codesOf(a), codesOf(b)),
      this.include,
    );
    const texts = readings.map((reading) => statementText(codesOf(reading.tokens)));
    const span = { start: tokens[0]?.startOffset ?? failure.start, end: failure.end };
    if (readings.length === 1) {
      this.report('warning', {
        ...span,
        rule: 'run-together',
        message: `read as ${numberImage} ${texts[0]}`,
        why: 'words are run together here, and this is the one way to read them apart',
        help: 'write the spaces, to be sure',
      });
      // Read once more, now that the codes stand where they stay.
      const [{ tokens: words }] = readings;
      return parseTokenised(words, this.tokenise(words));
    }
    if (readings.length > 1) {
      this.report('error', {
        ...span,
        rule: 'run-together',
        message: 'the words run together here can be read in more than one way',
        why: `as ${texts[0]}, or as ${texts[1]}`,
        help: 'write the spaces',
      });
    } else {
      const typed = this.readAsTyped(tokens, failure);
      if (typed !== undefined) return typed;
      this.report('error', failure);
    }
    this.tokenise(tokens);
    return undefined;
  }

  /** Tries a failed line as the machine reads it, which goes on over spaces within names and numbers. */
  private readAsTyped(
    tokens: readonly ListingToken[],
    failure: Problem,
  ): ParsedStatement | undefined {
    const typed = wordsWithSpaces(this.text, tokens);
    if (typed === undefined) return undefined;
    const parsed = parseTokenised(withoutSpaces(typed.tokens), this.tokenise(typed.tokens));
    if (parsed.statement === undefined || parsed.problems.length > 0) return undefined;
    for (const word of typed.words) this.report('warning', spaceWithin(word, failure));
    return parsed;
  }

  /** Leaves the codes of these tokens where the line's codes stand. */
  private tokenise(tokens: readonly ListingToken[]): Tokeniser {
    this.codes.length = this.lineStart;
    this.tokeniser.push(tokens);
    return this.tokeniser;
  }
}

/** What is wrong with the single tokens of a statement. */
function problemsOf({ problems, strange, unchecked }: Tokeniser): Problem[] {
  if (strange.length === 0) return problems;
  const found = [...problems];
  for (const token of strange) {
    // The machine's own signs may stand anywhere in a line that is not checked.
    if (unchecked && codeOfUnicode(token.image) !== undefined) continue;
    if (token.tokenType === Escape) found.push(unknownForm(token));
    else if (unchecked) found.push(foreignProblem(token)!);
  }
  return found;
}

/** A stored space means nothing to the machine outside strings and REM. */
function withoutSpaces(tokens: ListingToken[]): ListingToken[] {
  return tokens.some(isStoredSpace) ? tokens.filter((token) => !isStoredSpace(token)) : tokens;
}

/** `A[10]`: bytes that stand where other dialects have a subscript. */
const isLikeSubscript = ({ tokenType, image, text, startOffset }: ListingToken): boolean =>
  tokenType === Escape && /^\[\d\d\]$/.test(image) && /[A-Z$]/i.test(text[startOffset - 1]);

function likeSubscript({ image, startOffset, end }: ListingToken): Problem {
  const inside = image.slice(1, -1);
  return {
    start: startOffset,
    end,
    rule: 'bytes-as-subscript',
    message: `${image} is one byte, ${Number.parseInt(inside, 16)}, and no subscript`,
    why: 'square brackets hold bytes, as two hexadecimal digits each, and the line is stored unchecked',
    help: `write (${inside}) where a subscript is meant`,
  };
}

function unknownForm(token: ListingToken): Problem {
  const { text, startOffset, image } = token;
  const span = { start: startOffset, end: startOffset + image.length, rule: 'no-such-form' };
  if (/[A-Z$]/i.test(text[startOffset - 1] ?? '') && /^\[[\w$ ,.*/+-]+\]$/.test(image)) {
    const round = `(${image.slice(1, -1)})`;
    return {
      ...span,
      message: 'subscripts and brackets are round on this machine',
      why: 'square ones hold bytes such as [F5]',
      help: `write ${round} for ${image}`,
    };
  }
  return {
    ...span,
    message: `${token.image} is not a form that the notation has`,
    help: 'outside strings and REM, square brackets hold [sp] or bytes such as [F5]; subscripts stand in round ones',
  };
}
