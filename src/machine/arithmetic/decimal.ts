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
  const [, whole, fraction = '', signs, tens] = matchLiteral(text);
  let value = wholeNumber(whole);
  let place = 1;
  for (const digit of fraction) {
    place = divide(place, 10);
    value = add(value, multiply(Number(digit), place));
  }
  if (tens === undefined || Number.isNaN(value)) return value;
  // The first minus turns the exponent's sign; a second one turns it back, and no third does.
  const isNegative = (signs.match(/-/g) ?? []).length === 1;
  return timesTens(value, wholeNumber(tens), isNegative);
}

function matchLiteral(text: string): RegExpExecArray {
  const match = LITERAL.exec(text);
  if (match === null || text === '') throw new RangeError(`${text} is not a decimal literal`);
  return match;
}

function wholeNumber(digits: string): number {
  let value = 0;
  for (const digit of digits) {
    value = add(Number(digit), multiply(value, 10));
    if (Number.isNaN(value)) break;
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
  if (text.length > 9 || text.length === 0) return undefined;
  let value = 0;
  for (let at = 0; at < text.length; at++) {
    const digit = text.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) return undefined;
    value = value * 10 + digit;
  }
  return value;
}

/**
 * The machine's number nearest to a literal, correctly rounded from all its digits (halves away
 * from zero), as tools on other computers make it. NaN when it is too large.
 */
export function nearestOfDecimal(text: string): number {
  const short = shortWhole(text);
  if (short !== undefined) return short;
  const [, whole, fraction = '', signs = '', tens = ''] = matchLiteral(text);
  const sign = (signs.match(/-/g) ?? []).length === 1 ? '-' : '';
  const plain = `${whole || '0'}.${fraction || '0'}E${sign}${tens || '0'}`;
  return settle(plain, Number(plain));
}

/**
 * Rounding first to a double and then to 32 bits goes wrong only where the double lies exactly
 * halfway between two of the machine's numbers; there the digits themselves decide.
 */
function settle(text: string, double: number): number {
  if (double === 0 || !(double < 2 ** 128)) return double === 0 ? 0 : Number.NaN;
  if (double < 2 ** -140) return 0;
  const unit = 2 ** (exponentByte(double) - 160);
  const scaled = double / unit;
  const floor = Math.floor(scaled);
  const isLess = scaled - floor === 0.5 && compareDecimal(text, double) < 0;
  return roundNumber(isLess ? floor * unit : double);
}

/** Sign of (the exact value of the literal minus the double). */
function compareDecimal(text: string, double: number): number {
  const match = /^(\d*)\.(\d*)E(-?\d+)$/i.exec(text)!;
  const fraction = match[2].replace(/0+$/, '');
  let left = BigInt(match[1] + fraction);
  const tens = Number(match[3]) - fraction.length;
  let exponent = 0;
  let mantissa = double;
  while (!Number.isInteger(mantissa)) {
    mantissa *= 2;
    exponent--;
  }
  let right = BigInt(mantissa);
  if (exponent < 0) left <<= BigInt(-exponent);
  if (tens >= 0) left *= 10n ** BigInt(tens);
  else right *= 10n ** BigInt(-tens);
  return left < right ? -1 : left > right ? 1 : 0;
}
