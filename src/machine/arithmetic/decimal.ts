/**
 * A decimal literal as a number.
 * Source: G. Wearmouth, "An Assembly Listing of the Operating System" (2004): DEC-TO-FP 14D9,
 * INT-TO-FP 1548, E-TO-FP 155A.
 */
import { exponentByte } from '../double.js';
import { roundNumber } from '../numbers.js';
import { add, divide, multiply } from './operations.js';

/** How an image's numbers were made from their digits. */
export type NumberMaking = 'typed' | 'nearest';

/** What can be a literal: digits, a point, an exponent; a point alone is 0, and `1E` is 1. */
const LITERAL = /^(\d*)(?:\.(\d*))?(?:E([+-]*)(\d*))?$/i;

/** A literal's value, made in this way. NaN when it is too large. */
export function numberOfLiteral(text: string, making: NumberMaking): number {
  return making === 'nearest' ? nearestOfDecimal(text) : numberOfDecimal(text);
}

/**
 * The number that the machine stores for a literal such as `12`, `.5`, `1.5E-3` when it is typed,
 * digit by digit: `.5` is a little less than a half. NaN when it is too large. Throws RangeError for
 * what is no literal.
 */
export function numberOfDecimal(text: string): number {
  const short = shortWhole(text);
  if (short !== undefined) return short;
  const { whole, fraction, tens, isNegative } = partsOf(text);
  let value = wholeNumber(whole);
  let place = 1;
  for (const digit of fraction) {
    place = divide(place, 10);
    value = add(value, multiply(Number(digit), place));
  }
  return timesTens(value, wholeNumber(tens), isNegative);
}

/** The digits of a literal, and whether its exponent is negative. */
function partsOf(text: string) {
  const match = LITERAL.exec(text);
  if (match === null || text === '') throw new RangeError(`${text} is not a decimal literal`);
  const [, whole, fraction = '', signs = '', tens = ''] = match;
  // The first minus turns the exponent's sign; a second one turns it back, and no third does.
  return { whole, fraction, tens, isNegative: signs.split('-').length === 2 };
}

function wholeNumber(digits: string): number {
  let value = 0;
  for (const digit of digits) {
    value = add(Number(digit), multiply(value, 10));
  }
  return value;
}

/** E-TO-FP: by seven powers of ten at once while there are so many, then one by one. */
export function timesTens(value: number, tens: number, isNegative: boolean): number {
  const scale = isNegative ? divide : multiply;
  let result = value;
  for (let left = tens; left >= 1 && result !== 0 && !Number.isNaN(result); ) {
    const isChunk = left >= 7;
    result = scale(result, isChunk ? 1e7 : 10);
    left -= isChunk ? 7 : 1;
  }
  return Number.isNaN(tens) ? tens : result;
}

/** A whole number of at most nine digits, which is exact either way: the usual case, and the quick one. */
function shortWhole(text: string): number | undefined {
  return /^\d{1,9}$/.test(text) ? Number(text) : undefined;
}

/**
 * The machine's number nearest to a literal, correctly rounded from all its digits (halves away
 * from zero), as tools on other computers make it. NaN when it is too large.
 */
export function nearestOfDecimal(text: string): number {
  const { whole, fraction, tens, isNegative } = partsOf(text);
  const exponent = `${isNegative ? '-' : ''}0${tens}`;
  const double = Number(`0${whole}.${fraction}E${exponent}`);
  // Rounding first to a double and then to 32 bits goes wrong only where the double lies exactly
  // halfway between two of the machine's numbers; there the digits themselves decide.
  const unit = 2 ** (exponentByte(double) - 160);
  const scaled = double / unit;
  const floor = Math.floor(scaled);
  const isHalfway = scaled - floor === 0.5;
  const tensOfDigits = Number(exponent) - fraction.length;
  const isLess = isHalfway && isBelow(BigInt(whole + fraction), tensOfDigits, double);
  return roundNumber(isLess ? floor * unit : double);
}

/** Is a whole number, with so many tens, less than the double? */
function isBelow(digits: bigint, tens: number, double: number): boolean {
  let left = digits;
  let exponent = 0;
  let mantissa = double;
  while (!Number.isInteger(mantissa)) {
    mantissa *= 2;
    exponent--;
  }
  let right = BigInt(mantissa);
  left <<= BigInt(-exponent);
  if (tens >= 0) left *= 10n ** BigInt(tens);
  else right *= 10n ** BigInt(-tens);
  return left < right;
}
