/**
 * The four operations, as the ROM does them: bit for bit what its routines leave in five bytes.
 * Source: G. Wearmouth, "An Assembly Listing of the Operating System" (2004): addition 1755,
 * multiplication 17C6, division 1882, normalising 1828; I. Logan and F. O'Hara, ROM disassembly
 * (1982), says the same of division.
 *
 * A number is a double that the machine has: 32 bits of mantissa, 0 or 2^-128 ≤ |x| < 2^127. Doubles
 * hold all of these exactly, and most sums of theirs; where a result is longer than a double, what
 * was cut off it is worked out too (`productError`). Every operation gives NaN where the ROM gives
 * report 6. There is no -0.
 */

import { exponentByte, LOW, SURPLUS, UNIT, UNITS_IN_ONE, words } from '../double.js';

/** The highest of the bits that the machine has no room for. */
const HALF_A_UNIT = 0x100000;
/** One more than the largest mantissa, in units of its last bit. */
const MANTISSAS = 2 ** 32;

const TOO_LARGE = 2 ** 127;
const SMALLEST = 2 ** -128;
/** From here up to the smallest number, a result becomes the smallest number; below it, 0. */
const NEAR_SMALLEST = 2 ** -129;

/**
 * The nearest whole number, halves up in magnitude: how commands take sizes, lines, places and
 * addresses (FP-TO-BC 158A). There is no -0.
 */
export function wholeOf(value: number): number {
  return value < 0 ? 0 - Math.floor(0.5 - value) : Math.floor(value + 0.5);
}

/** A result of at most 32 bits, within the machine's reach. */
export function withinReach(value: number): number {
  const magnitude = Math.abs(value);
  if (!(magnitude < TOO_LARGE)) return Number.NaN;
  if (magnitude >= SMALLEST) return value;
  if (magnitude < NEAR_SMALLEST) return 0;
  return value < 0 ? -SMALLEST : SMALLEST;
}

/** Sum. The smaller operand loses its last bits first, rounded up: towards +∞, whatever its sign. */
export function add(a: number, b: number): number {
  const sum = a + b;
  // Whole numbers of 32 bits lose nothing: the usual case. Where `b` is none, all of it is lost.
  if ((sum | 0) === sum && (a | 0) === a) return sum;
  return addShifted(a, b);
}

/** Difference: the sum with the other sign, so that its order counts. */
export function subtract(a: number, b: number): number {
  const difference = a - b;
  if ((difference | 0) === difference && (a | 0) === a) return difference;
  return addShifted(a, -b);
}

function addShifted(a: number, b: number): number {
  const placeOfA = exponentByte(a);
  const placeOfB = exponentByte(b);
  const place = Math.max(placeOfA, placeOfB);
  const large = placeOfA >= placeOfB ? a : b;
  const small = placeOfA >= placeOfB ? b : a;
  const scale = UNITS_IN_ONE[place];
  // An operand 33 places below the other one, or more, becomes 0.
  let sum = large * scale + Math.floor(small * scale + 0.5);
  if (Math.abs(sum) >= MANTISSAS) sum = 2 * Math.floor(sum / 2 + 0.5);
  return withinReach(sum * UNIT[place]);
}

/** Product, all of it, rounded half up in magnitude to 32 bits. */
export function multiply(a: number, b: number): number {
  const product = a * b;
  if ((product | 0) === product) return product | 0;
  const place = exponentByte(product);
  if (place > 255) return Number.NaN;
  const surplus = words[LOW] & SURPLUS;
  if (place < 1) return tinyProduct(a, b, product);
  if (surplus === 0) return product;
  // Where it lies halfway, as a double, what the double lost decides.
  const isLess = surplus === HALF_A_UNIT && productError(a, b, product) * product < 0;
  return isLess ? withoutSurplus(product, place) : withinReach(nearest(product, place));
}

function tinyProduct(a: number, b: number, product: number): number {
  const isLess = Math.abs(product) === NEAR_SMALLEST && productError(a, b, product) * product < 0;
  return isLess ? 0 : withinReach(product);
}

/**
 * Quotient; NaN for a division by 0. Where the dividend's mantissa is not below the divisor's it is
 * rounded half up, otherwise it is cut off: the ROM takes the 34th bit as 0.
 */
export function divide(a: number, b: number): number {
  if (b === 0) return Number.NaN;
  if (a === 0) return 0;
  const quotient = a / b;
  if ((quotient | 0) === quotient && (b | 0) === b) return quotient;
  const isBelow = mantissa(a) < mantissa(b);
  const place = exponentByte(quotient);
  const surplus = words[LOW] & SURPLUS;
  if (isBelow) {
    if (surplus !== 0) return withinReach(withoutSurplus(quotient, place));
    return withinReach(isOverTrueQuotient(a, b, quotient) ? numberBelow(quotient) : quotient);
  }
  if (surplus === HALF_A_UNIT && isOverTrueQuotient(a, b, quotient)) {
    return withinReach(withoutSurplus(quotient, place));
  }
  return withinReach(nearest(quotient, place));
}

/** The mantissa, without its sign, in units of its last bit. */
function mantissa(value: number): number {
  return Math.abs(value) * UNITS_IN_ONE[exponentByte(value)];
}

/** Is a quotient, rounded as doubles are, larger in magnitude than the true one? */
function isOverTrueQuotient(a: number, b: number, quotient: number): boolean {
  const product = quotient * b;
  const remainder = a - product - productError(quotient, b, product);
  return remainder * a < 0;
}

/** The true product less the double that stands for it, exactly (T. Dekker's splitting). */
function productError(a: number, b: number, product: number): number {
  const highA = highHalf(a);
  const lowA = a - highA;
  const highB = highHalf(b);
  const lowB = b - highB;
  return highA * highB - product + highA * lowB + lowA * highB + lowA * lowB;
}

const SPLITTER = 2 ** 27 + 1;

function highHalf(value: number): number {
  const scaled = SPLITTER * value;
  return scaled - (scaled - value);
}

/** What the last of 32 bits counts, by exponent byte; quotients may have one that the machine has not. */
const unitAt = (place: number): number => UNIT[place] ?? 2 ** (place - 160);

/** To 32 bits, half up in magnitude. */
function nearest(value: number, place: number): number {
  const unit = unitAt(place);
  const rounded = Math.floor(Math.abs(value) / unit + 0.5) * unit;
  return value < 0 ? -rounded : rounded;
}

/** The first 32 bits. */
function withoutSurplus(value: number, place: number): number {
  const unit = unitAt(place);
  return Math.trunc(value / unit) * unit;
}

/** The next number towards 0 of one that is no power of 2: no quotient that is cut off is one. */
function numberBelow(value: number): number {
  const unit = unitAt(exponentByte(value));
  return value < 0 ? value + unit : value - unit;
}
