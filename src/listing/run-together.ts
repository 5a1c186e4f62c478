/**
 * Words run together as printed listings do: `PRINTAT 3,4;`, `FORI=1TO9`, `IFA=1THENGOTO50`.
 * They are read apart when, and only when, that is the one way in which the line is a statement.
 */
import { keyword } from '../../grammar/keywords.js';
import { endOfLine, endOfNumber } from '../../grammar/lexer.js';
import { type ParsedStatement, parseStatement } from '../../grammar/parser.js';
import type { Include } from '../../grammar/text.js';
import {
  isName,
  ListingToken,
  NumberToken,
  Rem,
  tokenOfName,
  tokenOfWord,
} from '../../grammar/tokens.js';

/** Ways to part one word that are tried, and attempts for one line: bounds, so that time is linear. */
const MOST_SPLITS = 48;
const MOST_ATTEMPTS = 160;
const LONGEST_WORD = 80;

export interface Reading extends ParsedStatement {
  readonly tokens: ListingToken[];
}

/**
 * All readings of a statement's tokens with words taken apart that parse without a problem: at most
 * two are looked for, since two already mean that nothing can be chosen.
 */
export function apartReadings(
  tokens: readonly ListingToken[],
  failedAt: number,
  same: (a: ListingToken[], b: ListingToken[]) => boolean,
  include?: Include,
): Reading[] {
  const choices = tokens.map((token) => splitsOf(token));
  const open = choices.flatMap((choice, index) => (choice.length > 1 ? [index] : []));
  if (open.length === 0) return [];
  const chosen = new Array<number>(tokens.length).fill(0);
  const readings: Reading[] = [];
  let failure = failedAt;
  for (let attempt = 0; attempt < MOST_ATTEMPTS; attempt++) {
    // Whatever is chosen behind the place of failure cannot help: change a word before it.
    if (!advance(chosen, choices, open, (index) => tokens[index].startOffset <= failure)) {
      return readings;
    }
    const candidate = joinChoices(chosen, choices);
    const parsed = parseStatement(candidate, include);
    failure = parsed.failure?.token?.startOffset ?? Number.POSITIVE_INFINITY;
    if (parsed.statement === undefined || parsed.problems.length > 0) continue;
    if (readings.some((reading) => same(reading.tokens, candidate))) continue;
    readings.push({ ...parsed, tokens: candidate });
    if (readings.length === 2) return readings;
  }
  // The bound was reached: nothing is known to be the only way, so nothing is read.
  return [];
}

/** Steps to the next combination in which a word that `counts` differs; false when all were seen. */
function advance(
  chosen: number[],
  choices: readonly ListingToken[][][],
  open: readonly number[],
  counts: (index: number) => boolean,
): boolean {
  for (let at = open.length - 1; at >= 0; at--) {
    const index = open[at];
    if (counts(index) && chosen[index] + 1 < choices[index].length) {
      chosen[index]++;
      return true;
    }
    chosen[index] = 0;
  }
  return false;
}

function joinChoices(
  chosen: readonly number[],
  choices: readonly ListingToken[][][],
): ListingToken[] {
  const joined: ListingToken[] = [];
  for (let index = 0; index < chosen.length; index++) {
    for (const token of choices[index][chosen[index]]) {
      const before = joined.at(-1);
      // `TO9.5`: the 9 that was part of the word goes on in the number after it.
      if (
        before?.tokenType === NumberToken &&
        token.tokenType === NumberToken &&
        before.end === token.startOffset &&
        endOfNumber(before.text, before.startOffset) === token.end
      ) {
        const { text, startOffset } = before;
        joined[joined.length - 1] = new ListingToken(NumberToken, text, startOffset, token.end);
      } else joined.push(token);
      // A REM takes the rest of the line with it.
      if (token.tokenType === Rem) return joined;
    }
  }
  return joined;
}

/** The ways to take a token apart: as it stands first. Only names are ever taken apart. */
function splitsOf(token: ListingToken): ListingToken[][] {
  const ways: ListingToken[][] = [[token]];
  if (!isName(token) || token.image.length < 2 || token.image.length > LONGEST_WORD) return ways;
  const word = token.image.toUpperCase();
  const pieces: ListingToken[] = [];
  const { text, startOffset: base } = token;
  const place = (piece: ListingToken, at: number): void => {
    pieces.push(piece);
    part(at);
    pieces.pop();
  };
  const part = (at: number): void => {
    if (ways.length >= MOST_SPLITS) return;
    if (at === word.length) {
      if (pieces.length > 1 || pieces[0].payload !== undefined) ways.push([...pieces]);
      return;
    }
    for (const end of keywordEnds(word, at)) {
      if (word.slice(at, end) === 'REM') {
        pieces.push(new ListingToken(Rem, text, base + at, endOfLine(text, base + at)));
        ways.push([...pieces]);
        pieces.pop();
      } else place(tokenOfWord(text, base + at, base + end), end);
    }
    const number = /^\d+(?:E\d+)?/.exec(word.slice(at))?.[0];
    const afterKeyword = pieces.length === 0 || pieces.at(-1)!.payload !== undefined;
    if (!afterKeyword) return;
    if (number !== undefined) {
      const end = at + number.length;
      place(new ListingToken(NumberToken, text, base + at, base + end), end);
      return;
    }
    // A name reaches to the end of the word or to where a keyword begins.
    for (let end = at + 1; end <= word.length; end++) {
      if (word[end - 1] === '$' && end - at !== 2) break;
      if (end < word.length && word[end] !== '$' && keywordEnds(word, end).length === 0) continue;
      if (word[end] === '$') continue;
      if (at === 0 && end === word.length) continue;
      place(tokenOfName(text, base + at, base + end), end);
    }
  };
  part(0);
  return ways;
}

/** Where the keywords that begin at `at` end. */
function keywordEnds(word: string, at: number): number[] {
  const ends: number[] = [];
  for (let end = at + 2; end <= Math.min(word.length, at + 7); end++) {
    if (keyword(word.slice(at, end)) !== undefined) ends.push(end);
  }
  return ends;
}
