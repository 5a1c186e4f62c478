/**
 * Spaces within names and numbers: `LET HIGH SCORE=0`, `GOTO 1 0`. The machine reads on over them,
 * and stores them as they were typed. A listing is read so where it cannot be read otherwise, unless
 * one of the words is known to mean something else.
 */
import { tokensAsTyped } from '../../grammar/lexer.js';
import { countSpaces, withoutSpaces } from '../../grammar/spelling.js';
import { isName, type ListingToken, NumberToken } from '../../grammar/tokens.js';
import type { Problem } from '../../grammar/tree.js';
import { nearestKeywords, wordDistance } from './explain.js';
import { insteadOf } from './other-dialects.js';

/** Shorter words are near to some keyword by chance. */
const SHORTEST_MISSPELT = 3;

/** A statement with names or numbers that go on over spaces. */
export interface AsTyped {
  readonly tokens: ListingToken[];
  /** Those names and numbers. */
  readonly words: readonly ListingToken[];
}

/** The tokens of a statement as it would be typed; undefined where that makes no difference. */
export function wordsWithSpaces(
  text: string,
  tokens: readonly ListingToken[],
): AsTyped | undefined {
  if (tokens.length === 0) return undefined;
  const typed = tokensAsTyped(text, tokens[0].startOffset);
  const words = typed.filter((token) => isWord(token) && charactersOf(token).includes(' '));
  if (words.length === 0 || words.some(isMistaken)) return undefined;
  return { tokens: typed, words };
}

/** What a name or a number is made of, each stored space as it is written; without given bytes. */
const charactersOf = ({ image }: ListingToken): string =>
  image.split('[=')[0].replaceAll(/\[\s*sp\s*\]/gi, '[sp]');

const isWord = (token: ListingToken): boolean => isName(token) || token.tokenType === NumberToken;

/** Is one of the words from another dialect, or one behind the first a letter away from a keyword? */
function isMistaken(token: ListingToken): boolean {
  return charactersOf(token)
    .split(' ')
    .some((word, index) => {
      if (/^[A-Z]/i.test(word) && insteadOf(word) !== undefined) return true;
      if (index === 0 || word.length < SHORTEST_MISSPELT) return false;
      const upper = word.toUpperCase();
      return nearestKeywords(word).some((known) => wordDistance(upper, known, 1) <= 1);
    });
}

/** What to say of such a name or number; `failure` is what keeps the line from being read without it. */
export function spaceWithin(word: ListingToken, failure: Problem): Problem {
  const { startOffset: start, end } = word;
  const shown = charactersOf(word).toUpperCase();
  const plain = withoutSpaces(shown);
  const thing = word.tokenType === NumberToken ? 'number' : 'name';
  const many = countSpaces(shown) > 1;
  const mind = failure.instead === undefined ? '' : `; if it is two things, ${failure.help}`;
  return {
    start,
    end,
    rule: 'space-within',
    message: `${shown} is read as the one ${thing} ${plain}, and its ${many ? 'spaces are' : 'space is'} stored`,
    why: `the machine reads on over a space within a name or a number, and keeps it`,
    instead: failure.instead,
    help: `write ${plain}, or ${shown.replaceAll('[SP]', '[sp]').replaceAll(' ', '[sp]')} where the space is meant${mind}`,
  };
}
