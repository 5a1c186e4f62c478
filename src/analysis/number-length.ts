/** How many characters a number is printed in, as far as its range tells (src/machine/arithmetic/digits.ts). */
import { numberText } from '../machine/arithmetic/digits.js';
import { type LengthRange, type NumberRange, single } from './expression-ranges.js';

/** Characters of the longest number that PRINT and STR$ write, such as -1.2345678E-38 (from memory). */
export const LONGEST_NUMBER = 14;
/** The most digits that are significant, and those with the point between them. */
const DIGITS = 8;
const WITH_POINT = DIGITS + 1;
/** Whole numbers below this are printed digit by digit. */
const PLAIN_WHOLE = 1e8;
/** Safely below the first number that is printed in E form. */
const PLAIN = 1e12;

/** Characters in which a number of this range is printed. */
export function lengthOfNumber(found: NumberRange): LengthRange {
  const known = single(found);
  if (known !== undefined) {
    const { length } = numberText(known);
    return { low: length, high: length };
  }
  const { low, high } = found;
  const most = Math.max(-low, high);
  if (found.whole && most < PLAIN_WHOLE) {
    const ends = [low, high].map((end) => numberText(end).length);
    const crossesZero = low <= 0 && high >= 0;
    return { low: crossesZero ? 1 : Math.min(...ends), high: Math.max(...ends) };
  }
  const sign = low < 0 ? 1 : 0;
  const least = low > 0 ? low : high < 0 ? -high : 0;
  if (most >= PLAIN) return { low: 1, high: LONGEST_NUMBER - 1 + sign };
  const large = Math.max(WITH_POINT, numberText(Math.floor(most * 1.000001)).length);
  return { low: 1, high: sign + Math.max(large, found.whole ? 0 : longestSmall(least)) };
}

/** The most characters of a number that may be so small, without its sign: .012345678 has ten. */
function longestSmall(least: number): number {
  if (least >= 1) return 0;
  if (least >= 0.011) return WITH_POINT + 1;
  if (least >= 0.0011) return WITH_POINT + 2;
  return LONGEST_NUMBER - 1;
}
