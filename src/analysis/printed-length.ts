/**
 * How many characters the display shows for a text: the code of a keyword is shown in full, with
 * spaces about it (the manual, chapter 11).
 */
import type { Expression } from '../../grammar/tree.js';
import { hasSpaceAfter, hasSpaceBefore, KEYWORDS, QUOTE_IMAGE } from '../machine/characters.js';
import { type ExpressionRanges, type LengthRange, lengthOfEither } from './expression-ranges.js';
import type { Use } from './steps.js';

/** The fewest and the most characters that a code is shown as. */
function shownLength(code: number): LengthRange {
  const word = code === QUOTE_IMAGE ? undefined : KEYWORDS.get(code);
  if (word === undefined) return ONE;
  const low = [...word].length + (hasSpaceAfter(code) ? 1 : 0);
  return { low, high: low + (hasSpaceBefore(code) ? 1 : 0) };
}

const ONE: LengthRange = { low: 1, high: 1 };

/** The same of any code between two. */
function shownBetween(low: number, high: number): LengthRange {
  let found: LengthRange | undefined;
  const [first, last] = [Math.max(0, Math.ceil(low - 0.5)), Math.min(255, Math.floor(high + 0.5))];
  for (let code = first; code <= last; code++) {
    const shown = shownLength(code);
    found = {
      low: Math.min(found?.low ?? Infinity, shown.low),
      high: Math.max(found?.high ?? 0, shown.high),
    };
  }
  return found ?? ONE;
}

const LONGEST = shownBetween(0, 255).high;

/**
 * The most characters that one character of a string variable is shown as: 1 where no text of the
 * program has a keyword's code in it.
 */
export function longestShown(uses: readonly Use[], ranges: ExpressionRanges): number {
  const spelled = uses.some(({ node }) => {
    if (node.kind === 'string') return node.codes.some((code) => shownLength(code).high > 1);
    if (node.kind !== 'call' || node.function !== 'CHR$') return false;
    const { low, high } = ranges.number(node.argument);
    return shownBetween(low, high).high > 1;
  });
  return spelled ? LONGEST : 1;
}

/** Characters that PRINT shows of a text; `longest` for each character of a variable. */
export function printedLength(
  node: Expression,
  ranges: ExpressionRanges,
  longest: number,
): LengthRange {
  switch (node.kind) {
    case 'string': {
      let [low, high] = [0, 0];
      for (const code of node.codes) {
        const shown = shownLength(code);
        low += shown.low;
        high += shown.high;
      }
      return { low, high };
    }
    case 'brackets':
      return printedLength(node.inner, ranges, longest);
    case 'binary': {
      const left = printedLength(node.left, ranges, longest);
      if (node.operator === 'AND') return lengthOfEither(left, ranges.number(node.right));
      const right = printedLength(node.right, ranges, longest);
      return { low: left.low + right.low, high: left.high + right.high };
    }
    case 'call': {
      if (node.function !== 'CHR$') return ranges.length(node);
      const { low, high } = ranges.number(node.argument);
      return shownBetween(low, high);
    }
    default: {
      const { low, high } = ranges.length(node);
      return { low, high: high * longest || 0 };
    }
  }
}
