/**
 * The functions, as the ROM's calculator works them out: by series, with the operations of its own
 * arithmetic, in its order.
 * Source: G. Wearmouth, "An Assembly Listing of the Operating System" (2004): the series generator
 * 1A7F, SIN and COS 1D3E, ATN 1D76, LN 1CA9, EXP 1C5B, SQR and ** 1DDB; I. Logan and F. O'Hara, ROM
 * disassembly (1982).
 *
 * The coefficients are our own (`coefficients.ts`): those of the same expansions to all 32 bits. The
 * ROM's smaller ones are kept shorter there, so that a result here may differ from the machine's in
 * the last two bits of its mantissa, and, after `**` or TAN, by as much as that becomes. What is
 * printed, eight digits, is then the same but for one in the last place now and then.
 *
 * NaN stands for report 6. Arguments are those that the machine takes: see each function.
 */

import { exponentByte } from '../double.js';
import { roundNumber } from '../numbers.js';
import {
  ARC_TANGENT,
  EXPONENTIAL,
  LN_2,
  LOGARITHM,
  ONE_OVER_2_PI,
  ONE_OVER_LN_2,
  PI_OVER_2,
  SINE,
} from './coefficients.js';
import { add, divide, multiply, subtract, withinReach } from './operations.js';

export const PI = 2 * PI_OVER_2;
/** .8 to 32 bits. */
const FOUR_FIFTHS = roundNumber(0.8);
const SMALLEST = 2 ** -128;

/** The sum of a Chebyshev series at z, from -1 to 1: its highest coefficient is taken first. */
function series(z: number, coefficients: readonly number[]): number {
  const twice = add(z, z);
  let sum = 0;
  let before = 0;
  let beforeThat = 0;
  for (const coefficient of coefficients) {
    beforeThat = before;
    const next = add(subtract(multiply(sum, twice), beforeThat), coefficient);
    before = sum;
    sum = next;
  }
  return subtract(sum, beforeThat);
}

/** 2w² - 1: what the series of odd functions are taken at. */
function doubledSquare(w: number): number {
  const square = multiply(w, w);
  return subtract(add(square, square), 1);
}

/** An angle in quarters of a turn, from -2 to 2, and how far it lies beyond a quarter. */
function quarters(angle: number): { value: number; beyond: number } {
  const turns = multiply(angle, ONE_OVER_2_PI);
  const part = subtract(turns, Math.floor(add(turns, 0.5)));
  const halves = add(part, part);
  const value = add(halves, halves);
  return { value, beyond: subtract(Math.abs(value), 1) };
}

function sineOfQuarters(value: number): number {
  return multiply(value, series(doubledSquare(value), SINE));
}

/** Any angle, in radians. */
export function sine(angle: number): number {
  const { value, beyond } = quarters(angle);
  if (Number.isNaN(value) || beyond <= 0) return sineOfQuarters(value);
  const mirrored = subtract(beyond, 1);
  return sineOfQuarters(value < 0 ? mirrored : 0 - mirrored);
}

/** Any angle, in radians: the sine of what is left to a quarter turn. */
export function cosine(angle: number): number {
  const { value, beyond } = quarters(angle);
  // Beyond a quarter, the angle is first mirrored, as for the sine.
  if (beyond > 0) return sineOfQuarters(subtract(Math.abs(subtract(beyond, 1)), 1));
  return sineOfQuarters(0 - subtract(Math.abs(value), 1));
}

/** Any angle, in radians; NaN where the cosine is 0. */
export function tangent(angle: number): number {
  return divide(sine(angle), cosine(angle));
}

/** Any number. */
export function arcTangent(x: number): number {
  if (Math.abs(x) < 1) return arcTangentOfPart(x);
  const part = divide(-1, x);
  return add(x > 0 ? PI_OVER_2 : -PI_OVER_2, arcTangentOfPart(part));
}

function arcTangentOfPart(w: number): number {
  return multiply(w, series(doubledSquare(w), ARC_TANGENT));
}

/** 1 - x², of which ASN takes the root: below 0 is report A. */
export function besideSquare(x: number): number {
  return 0 - subtract(multiply(x, x), 1);
}

/** Where `besideSquare` is not below 0. */
export function arcSine(x: number): number {
  const half = arcTangent(divide(x, add(squareRoot(besideSquare(x)), 1)));
  return add(half, half);
}

/** Where `besideSquare` is not below 0. */
export function arcCosine(x: number): number {
  return 0 - subtract(arcSine(x), PI_OVER_2);
}

/** Of a number above 0. */
export function logarithm(x: number): number {
  const exponent = exponentByte(x) - 128;
  const mantissa = x * 2 ** -exponent;
  // From .8 to 1.6, so that the series is taken near 1.
  const isLarge = subtract(mantissa, FOUR_FIFTHS) > 0;
  const near = isLarge ? mantissa : add(mantissa, mantissa);
  const twos = isLarge ? exponent : exponent - 1;
  const beyondOne = subtract(subtract(near, 0.5), 0.5);
  const z = subtract(multiply(beyondOne, 2.5), 0.5);
  return add(multiply(twos, LN_2), multiply(beyondOne, series(z, LOGARITHM)));
}

/** Any number; NaN where the result is too large. */
export function exponential(x: number): number {
  const twos = multiply(x, ONE_OVER_LN_2);
  const whole = Math.floor(twos);
  const part = subtract(twos, whole);
  const value = series(subtract(add(part, part), 1), EXPONENTIAL);
  const result = value * 2 ** whole;
  return result < SMALLEST ? 0 : withinReach(result);
}

/** x**y, for x not below 0; NaN for 0 to a negative power and where the result is too large. */
export function power(x: number, y: number): number {
  if (x !== 0) return exponential(multiply(y, logarithm(x)));
  if (y === 0) return 1;
  return y > 0 ? 0 : Number.NaN;
}

/** Of a number not below 0: x**½, so that few squares come back whole. */
export function squareRoot(x: number): number {
  return power(x, 0.5);
}
