/**
 * What values the numbers of an expression can have and how long its strings can be, given what is
 * known of the variables in it: intervals. What only the run knows is unbounded.
 */
import type { Call, Expression, Range, Subscripted } from '../../grammar/tree.js';
import { baseVariable } from '../../grammar/visit.js';
import { numberOfDecimal } from '../machine/arithmetic/decimal.js';
import { PI, power, squareRoot } from '../machine/arithmetic/functions.js';
import { add, divide, multiply } from '../machine/arithmetic/operations.js';
import { SEEDS } from '../machine/arithmetic/random.js';
import { textOfCodes } from '../machine/characters.js';
import { DISPLAY_COLUMNS } from '../machine/memory-map.js';
import { LARGEST_NUMBER } from '../machine/numbers.js';
import { addressOf } from '../machine/system-variables.js';
import { type Name, nameOfVariable } from './names.js';
import { lengthOfNumber } from './number-length.js';

export interface NumberRange {
  readonly low: number;
  readonly high: number;
  /** Are all of them whole numbers? */
  readonly whole: boolean;
  /** Is it counted from a system variable that moves when the program grows or shrinks? */
  readonly moves: boolean;
}

/** Lengths of a string. */
export interface LengthRange {
  readonly low: number;
  readonly high: number;
}

export const ANY_NUMBER: NumberRange = range(-Infinity, Infinity, false);
export const ANY_LENGTH: LengthRange = { low: 0, high: Infinity };

/** What a person is taken to type at most at an INPUT: a row of the display. */
export const TYPED_LENGTH = DISPLAY_COLUMNS;
export const TYPED: LengthRange = { low: 0, high: TYPED_LENGTH };

export function range(low: number, high = low, whole = true, moves = false): NumberRange {
  return { low, high, whole, moves };
}

/** The one value of a range, or undefined. */
export function single(found: NumberRange): number | undefined {
  return found.low === found.high && Number.isFinite(found.low) ? found.low : undefined;
}

/**
 * System variables that hold where an area begins: an address counted up from one of them is the
 * same place of that area wherever it stands.
 */
const POINTERS = new Set(
  ['RAMTOP', 'D_FILE', 'DF_CC', 'VARS', 'E_LINE', 'STKBOT', 'STKEND'].flatMap((name) => [
    addressOf(name),
    addressOf(name) + 1,
  ]),
);

/** Expressions, over whatever knows the variables. */
export abstract class ExpressionRanges {
  /** The values that a number, or the elements of an array of numbers, can have. */
  abstract named(name: Name): NumberRange;
  /** How long a string, or a string of an array, can be. */
  abstract lengthOf(name: Name): LengthRange;
  /** Is the variable an array of strings of this element length? */
  abstract elementLength(name: Name): number | undefined;

  /** The numbers that an expression can give. */
  number(node: Expression): NumberRange {
    switch (node.kind) {
      case 'number':
        return range(node.value, node.value, Number.isInteger(node.value));
      case 'brackets':
        return this.number(node.inner);
      case 'variable':
        return this.named(node.name);
      case 'subscripted': {
        const base = baseVariable(node);
        return base === undefined ? ANY_NUMBER : this.named(nameOfVariable(base, true));
      }
      case 'constant':
        return node.name === 'PI' ? range(PI, PI, false) : RANDOM;
      case 'unary':
        return node.operator === 'NOT'
          ? this.not(node.operand)
          : negated(this.number(node.operand));
      case 'call':
        return this.call(node);
      case 'binary':
        return this.binary(node);
      case 'string':
        return ANY_NUMBER;
    }
  }

  /** How long the string that an expression gives can be. */
  length(node: Expression): LengthRange {
    switch (node.kind) {
      case 'string':
        return { low: node.size, high: node.size };
      case 'brackets':
        return this.length(node.inner);
      case 'variable':
        return this.lengthOf(node.name);
      case 'constant':
        return { low: 0, high: 1 };
      case 'call':
        return node.function === 'CHR$'
          ? { low: 1, high: 1 }
          : lengthOfNumber(this.number(node.argument));
      case 'binary': {
        const left = this.length(node.left);
        if (node.operator === 'AND') return lengthOfEither(left, this.number(node.right));
        const right = this.length(node.right);
        return { low: left.low + right.low, high: left.high + right.high };
      }
      case 'subscripted':
        return this.slice(node);
      default:
        return ANY_LENGTH;
    }
  }

  // ───────────────────────────────── expressions ─────────────────────────────────

  private not(operand: Expression): NumberRange {
    if (operand.type === 'string') return range(0, 1);
    const found = this.number(operand);
    if (isNotZero(found)) return range(0);
    return isZero(found) ? range(1) : range(0, 1);
  }

  private call(node: Call): NumberRange {
    const { argument } = node;
    switch (node.function) {
      case 'CODE':
        if (argument.kind !== 'string') return range(0, 255);
        return range(argument.size === 0 ? 0 : argument.codes[0]);
      case 'LEN': {
        const { low, high } = this.length(argument);
        return range(low, high);
      }
      case 'VAL':
        return argument.kind === 'string' ? valueOfDigits(argument.codes) : ANY_NUMBER;
      case 'PEEK': {
        const address = single(this.number(argument));
        return range(0, 255, true, address !== undefined && POINTERS.has(address));
      }
      case 'USR':
        return range(0, 65535);
      case 'SQR': {
        // Loops to the root of a known number hang on which side of it the machine comes out.
        const found = this.number(argument);
        const known = single(found);
        if (known === undefined || known < 0) return around(functionRange('SQR', found));
        const value = squareRoot(known);
        return range(value, value, Number.isInteger(value));
      }
      default:
        return around(functionRange(node.function, this.number(argument)));
    }
  }

  private binary(node: Expression & { kind: 'binary' }): NumberRange {
    if (node.left.type === 'string') return range(0, 1);
    const left = this.number(node.left);
    const right = this.number(node.right);
    switch (node.operator) {
      case '+':
        return reckonedRange(sum(left, right), left, right);
      case '-':
        // Counted down from a pointer it may come to lie within the program.
        return { ...reckonedRange(sum(left, negated(right)), left, right), moves: false };
      case '*':
        return reckonedRange(product(left, right), left, right);
      case '/':
        return reckonedRange(quotient(left, right), left, right);
      case '**': {
        const [base, exponent] = [single(left), single(right)];
        if (base === undefined || exponent === undefined || base < 0) return ANY_NUMBER;
        const value = power(base, exponent);
        return Number.isNaN(value) ? ANY_NUMBER : around(range(value, value, false));
      }
      case 'AND':
        return isZero(right) ? range(0) : isNotZero(right) ? left : joined(left, range(0));
      case 'OR':
        return isZero(right) ? left : isNotZero(right) ? range(1) : joined(left, range(1));
      default:
        return this.compare(node.operator, left, right);
    }
  }

  /** What a comparison gives: 0 or 1. */
  protected compare(_operator: string, _left: NumberRange, _right: NumberRange): NumberRange {
    return range(0, 1);
  }

  private slice(node: Subscripted): LengthRange {
    const last = node.subscripts.at(-1);
    const base = baseVariable(node);
    const element = base === undefined ? undefined : this.elementLength(base.name);
    const whole = this.length(node.base);
    if (last === undefined) return whole;
    if (last.kind === 'range') return this.partLength(last, whole);
    // One subscript of a plain string is one character; of an array it may be a whole row.
    return element === undefined ? { low: 1, high: 1 } : { low: 1, high: element };
  }

  private partLength(part: Range, whole: LengthRange): LengthRange {
    // The machine rounds both ends: wherever it rounds to, it is between these.
    const from = outward(part.from === undefined ? range(1) : this.number(part.from));
    const to = part.to === undefined ? whole : outward(this.number(part.to));
    const low =
      part.to === undefined && part.from === undefined ? whole.low : to.low - from.high + 1;
    return {
      low: Math.max(0, Math.min(low, whole.low)) || 0,
      high: Math.max(0, Math.min(to.high - Math.max(1, from.low) + 1, whole.high)),
    };
  }
}

const isZero = ({ low, high }: NumberRange): boolean => low === 0 && high === 0;
const isNotZero = ({ low, high }: NumberRange): boolean => low > 0 || high < 0;

/** A text AND a number: the text, or nothing where the number is 0. */
export function lengthOfEither(text: LengthRange, chosen: NumberRange): LengthRange {
  if (isZero(chosen)) return { low: 0, high: 0 };
  return isNotZero(chosen) ? text : { low: 0, high: text.high };
}

/** Whole numbers between which a range lies. */
function outward({ low, high }: NumberRange): LengthRange {
  return { low: Math.floor(low), high: Math.ceil(high) };
}

/** RND is a number from 0 to 65535, divided by 65536. */
const RANDOM: NumberRange = range(0, (SEEDS - 1) / SEEDS, false);
/** How far results lie from rounding that keeps their order, as a part of the value: 2 to the power -26. */
const INEXACT = 2 ** -26;

/** Bounds of what the machine works out by a series: even whole numbers may come out a little off. */
function around(found: NumberRange): NumberRange {
  return found.whole
    ? found
    : inexact({ ...found, low: found.low - 1e-7, high: found.high + 1e-7 });
}

/**
 * Bounds of a result. Of two values that are known it is the machine's own; elsewhere its rounding
 * may have put what lies between two bounds a little beyond them.
 */
function reckonedRange(found: NumberRange, left: NumberRange, right: NumberRange): NumberRange {
  const known = single(left) !== undefined && single(right) !== undefined;
  if (!known) return inexact(found);
  return found.whole ? found : { ...found, whole: Number.isInteger(single(found)) };
}

/** Bounds of a result that the machine may have rounded otherwise than we have. */
function inexact(found: NumberRange): NumberRange {
  if (found.whole) return found;
  const { low, high } = found;
  if (low === high && Number.isInteger(low)) return found;
  return {
    ...found,
    low: Number.isFinite(low) ? low - Math.abs(low) * INEXACT : low,
    high: Number.isFinite(high) ? high + Math.abs(high) * INEXACT : high,
  };
}

export function joined(a: NumberRange, b: NumberRange): NumberRange {
  return {
    low: Math.min(a.low, b.low),
    high: Math.max(a.high, b.high),
    whole: a.whole && b.whole,
    moves: a.moves && b.moves,
  };
}

/** Is the first range what the two joined would be? */
export function holds(a: NumberRange, b: NumberRange): boolean {
  return a.low <= b.low && a.high >= b.high && (b.whole || !a.whole) && (b.moves || !a.moves);
}

function negated(found: NumberRange): NumberRange {
  return { ...found, low: 0 - found.high, high: 0 - found.low };
}

/** Infinite bounds of opposite signs say nothing. */
function bounds(low: number, high: number, whole: boolean, moves: boolean): NumberRange {
  return range(
    Number.isNaN(low) ? -Infinity : low,
    Number.isNaN(high) ? Infinity : high,
    whole,
    moves,
  );
}

export function sum(a: NumberRange, b: NumberRange): NumberRange {
  return bounds(
    reckoned(add, a.low, b.low),
    reckoned(add, a.high, b.high),
    a.whole && b.whole,
    a.moves || b.moves,
  );
}

function product(a: NumberRange, b: NumberRange): NumberRange {
  const whole = a.whole && b.whole;
  return overEnds(productOfEnds, a, b, whole, a.moves || b.moves);
}

/** 0 × ∞ is no number: the bound is not reached, and 0 is. */
const productOfEnds = (one: number, other: number): number =>
  one === 0 || other === 0 ? 0 : reckoned(multiply, one, other);

function quotient(a: NumberRange, b: NumberRange): NumberRange {
  const isNoNumber = isEndless(a) && isEndless(b);
  if (isNoNumber || (b.low <= 0 && b.high >= 0)) return ANY_NUMBER;
  return overEnds(quotientOfEnds, a, b, false, a.moves);
}

const quotientOfEnds = (one: number, other: number): number => reckoned(divide, one, other);

const isEndless = ({ low, high }: NumberRange): boolean => low === -Infinity || high === Infinity;

/** Bounds of what is least and most where the ends of two ranges meet. */
function overEnds(
  of: (one: number, other: number) => number,
  a: NumberRange,
  b: NumberRange,
  whole: boolean,
  moves: boolean,
): NumberRange {
  const first = of(a.low, b.low);
  if (single(a) !== undefined && single(b) !== undefined) return bounds(first, first, whole, moves);
  const second = of(a.low, b.high);
  const third = of(a.high, b.low);
  const fourth = of(a.high, b.high);
  return bounds(
    Math.min(first, second, third, fourth),
    Math.max(first, second, third, fourth),
    whole,
    moves,
  );
}

/**
 * One end of a range, as the machine reckons it. Ends without a bound are not the machine's; where
 * it stops with report 6 there is no bound.
 */
function reckoned(operation: (a: number, b: number) => number, a: number, b: number): number {
  if (Number.isFinite(a) && Number.isFinite(b)) {
    const value = operation(a, b);
    if (!Number.isNaN(value)) return value;
  }
  const value = operation === add ? a + b : operation === multiply ? a * b : a / b;
  return Math.abs(value) < LARGEST_NUMBER ? value : value * Infinity;
}

const root = (value: number): number =>
  Number.isFinite(value) ? squareRoot(Math.max(0, value)) : Math.max(0, value);

function functionRange(name: Call['function'], found: NumberRange): NumberRange {
  const { low, high, moves } = found;
  switch (name) {
    case 'INT':
      return range(Math.floor(low), Math.floor(high), true, moves);
    case 'SGN':
      return range(Math.sign(low), Math.sign(high));
    case 'ABS':
      if (low >= 0) return found;
      return high <= 0 ? negated(found) : { ...found, low: 0, high: Math.max(-low, high) };
    case 'SIN':
      return wave(Math.sin, found);
    case 'COS':
      return wave(Math.cos, found);
    case 'SQR':
      return range(root(low), root(high), false);
    case 'EXP':
      return rising(Math.exp, found, 0);
    case 'LN':
      return low > 0 ? rising(Math.log, found, -Infinity) : ANY_NUMBER;
    case 'ATN':
      return rising(Math.atan, found, -2);
    case 'ASN':
    case 'ACS':
      return range(-2, 4, false);
    default:
      return ANY_NUMBER;
  }
}

/** How far a series of the machine may lie from the true value, for 1 and for each 1 of it (an estimate). */
const SERIES_ERROR = 1e-6;
/** Arguments beyond which that is not so. */
const LARGEST_ANGLE = 1000;

/** SIN or COS: it changes by no more than its argument does. */
function wave(of: (angle: number) => number, { low, high }: NumberRange): NumberRange {
  const half = (high - low) / 2;
  if (!(half < 1) || Math.max(-low, high) > LARGEST_ANGLE) return range(-1, 1, false);
  const middle = of(low + half);
  const reach = half + SERIES_ERROR;
  return range(Math.max(-1, middle - reach), Math.min(1, middle + reach), false);
}

/** A function that rises with its argument and stays above a floor. */
function rising(of: (value: number) => number, found: NumberRange, floor: number): NumberRange {
  const error = (value: number): number => SERIES_ERROR * (1 + Math.abs(value));
  const [least, most] = [of(found.low), of(found.high)];
  return range(
    Number.isFinite(least) ? Math.max(floor, least - error(least)) : floor,
    Number.isFinite(most) ? most + error(most) : Infinity,
    false,
  );
}

/** The value of a text of digits alone; others are worked out when the program runs. */
function valueOfDigits(codes: Uint8Array): NumberRange {
  const text = textOfCodes(codes);
  if (/^-?\d{1,9}$/.test(text)) return range(Number(text));
  if (!/^-?(\d{1,9}\.?\d{0,9}|\.\d{1,9})$/.test(text)) return ANY_NUMBER;
  const magnitude = numberOfDecimal(text.replace('-', ''));
  const value = text.startsWith('-') ? 0 - magnitude : magnitude;
  return range(value, value, Number.isInteger(value));
}
