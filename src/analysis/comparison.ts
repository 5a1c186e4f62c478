/**
 * What comparing two numbers gives, and when a FOR goes on, as the machine compares: by subtracting.
 * What differs by less than its last bit can be equal to it, so that beyond whole numbers "at most"
 * and "equal" reach a little further than they should (src/machine/arithmetic/operations.ts).
 */
import { subtract } from '../machine/arithmetic/operations.js';
import { type NumberRange, range, single } from './expression-ranges.js';

/** Whole numbers up to here are subtracted without loss. */
const EXACT_WHOLE = 2 ** 31;
/** By how much numbers may differ that are equal to the machine, as a part of the larger. */
const BLUR = 2 ** -31;

/** The most by which two numbers may differ that the machine takes for equal. */
function blur(a: number, b: number, whole: boolean): number {
  const larger = Math.max(Math.abs(a), Math.abs(b));
  return whole && larger <= EXACT_WHOLE ? 0 : larger * BLUR;
}

/** A bound as far up, or down, as what the machine may still take for equal to it. */
export function blurred(bound: number, whole: boolean, way: 1 | -1): number {
  return Number.isFinite(bound) ? bound + way * blur(bound, bound, whole) : bound;
}

/** Is every number of the first below every one of the second, to the machine too? */
function surelyBelow(a: NumberRange, b: NumberRange): boolean {
  return a.high + blur(a.high, b.low, a.whole && b.whole) < b.low;
}

/** 1, 0 or either: what a comparison of two numbers gives. */
export function compared(operator: string, a: NumberRange, b: NumberRange): NumberRange {
  const [first, second] = [single(a), single(b)];
  if (first !== undefined && second !== undefined)
    return range(comparedNumbers(operator, first, second));
  switch (operator) {
    case '=':
      return truth(false, surelyBelow(a, b) || surelyBelow(b, a));
    case '<>':
      return truth(surelyBelow(a, b) || surelyBelow(b, a), false);
    case '<':
      return truth(surelyBelow(a, b), a.low >= b.high);
    case '>':
      return truth(surelyBelow(b, a), b.low >= a.high);
    case '<=':
      return truth(a.high <= b.low, surelyBelow(b, a));
    case '>=':
      return truth(b.high <= a.low, surelyBelow(a, b));
    default:
      return range(0, 1);
  }
}

/** The comparison of two known numbers; for < and >= the machine exchanges them first. */
export function comparedNumbers(operator: string, a: number, b: number): 0 | 1 {
  switch (operator) {
    case '=':
      return difference(a, b) === 0 ? 1 : 0;
    case '<>':
      return difference(a, b) === 0 ? 0 : 1;
    case '<':
      return difference(b, a) > 0 ? 1 : 0;
    case '>=':
      return difference(b, a) > 0 ? 0 : 1;
    case '>':
      return difference(a, b) > 0 ? 1 : 0;
    default:
      return difference(a, b) > 0 ? 0 : 1;
  }
}

/** Where the difference is too large for the machine its sign is what counts: the run ends there. */
function difference(a: number, b: number): number {
  if (a === b) return 0;
  const found = subtract(a, b);
  return Number.isNaN(found) ? a - b : found;
}

function truth(surely: boolean, never: boolean): NumberRange {
  if (surely) return range(1);
  return never ? range(0) : range(0, 1);
}
