/**
 * Results of arithmetic and of functions, or the machine's report where there is none; and numbers as
 * commands take them.
 */
import type { FunctionName } from '../../../grammar/tree.js';
import { numberText } from '../../machine/arithmetic/digits.js';
import {
  arcCosine,
  arcSine,
  arcTangent,
  besideSquare,
  cosine,
  exponential,
  logarithm,
  power,
  sine,
  squareRoot,
  tangent,
} from '../../machine/arithmetic/functions.js';
import { divide, subtract, wholeOf } from '../../machine/arithmetic/operations.js';
import { report } from '../halt.js';

export const SEE_VALUE = 'see where that value comes from; --trace shows the values as they change';

/** A result, where there is one. Throws report 6. */
export function settled(value: number): number {
  if (!Number.isNaN(value)) return value;
  throw overflow('the result is larger than about 1.7E38');
}

function overflow(why: string) {
  return report('6', why, 'see what the values are here; --trace shows them');
}

/** A number as a whole one of two bytes: the nearest. Throws report B. */
export function wordOf(value: number, what: string): number {
  const whole = wholeOf(value);
  if (value >= 0 && whole <= 0xffff) return whole;
  throw report('B', `${what} is ${numberText(value)}, and must be from 0 to 65535`, SEE_VALUE);
}

/**
 * A number's size as a byte, its sign left out, as the ROM takes it. Throws report B, which names
 * the range that the manual gives, from `lowest` on.
 */
export function byteOf(value: number, what: string, lowest = 0): number {
  const whole = Math.abs(wholeOf(value));
  if (whole <= 0xff) return whole;
  const range = `from ${lowest} to 255`;
  throw report('B', `${what} is ${numberText(value)}, and must be ${range}`, SEE_VALUE);
}

/**
 * What the ROM looks at to compare two numbers (NO-L-EQL 1803): the first less the second. For < and
 * >= it exchanges them first.
 */
export function difference(left: number, right: number): number {
  return left === right ? 0 : settled(subtract(left, right));
}

/** Is a difference, or what is missing, so small that eight digits may not show it? */
export const isNear = (gap: number, value: number): boolean =>
  (gap < 0 ? -gap : gap) < (value < 0 ? -value : value) * 2 ** -25;

/** A quotient. Throws report 6. */
export function divided(left: number, right: number): number {
  if (right === 0) throw overflow(`${numberText(left)}/0: a division by zero`);
  return settled(divide(left, right));
}

/** A power, by logarithms. Throws reports 6 and A. */
export function raised(base: number, exponent: number): number {
  if (base === 0 && exponent < 0) throw overflow('0 to a negative power');
  if (base >= 0) return settled(power(base, exponent));
  throw report(
    'A',
    `${numberText(base)}**${numberText(exponent)}: the machine raises by logarithms, and a negative number has none`,
    'multiply instead, or take ABS and see to the sign',
  );
}

/** What functions of a number give. */
export const FUNCTIONS: Partial<Record<FunctionName, (value: number) => number>> = {
  SIN: (x) => settled(sine(x)),
  COS: (x) => settled(cosine(x)),
  TAN: (x) => settled(tangent(x)),
  ASN: (x) => settled(arcSine(withinOne('ASN', x))),
  ACS: (x) => settled(arcCosine(withinOne('ACS', x))),
  ATN: (x) => settled(arcTangent(x)),
  EXP: (x) => settled(exponential(x)),
  SGN: (x) => Math.sign(x),
  ABS: (x) => Math.abs(x),
  LN(x) {
    if (x <= 0) throw badArgument('LN', x, 'only numbers above 0 have a logarithm');
    return settled(logarithm(x));
  },
  SQR(x) {
    if (x < 0) throw badArgument('SQR', x, 'a negative number has no square root');
    return settled(squareRoot(x));
  },
};

function badArgument(name: string, value: number, domain: string) {
  return report('A', `${name} ${numberText(value)}: ${domain}`, SEE_VALUE);
}

function withinOne(name: string, value: number): number {
  const beside = settled(besideSquare(value));
  if (beside < 0) throw badArgument(name, value, 'it goes from -1 to 1');
  return value;
}
