/** What the ROM's routines do at the edges of the functions (G. Wearmouth, 2004); their values are in tests/published. */
import { describe, expect, test } from 'vitest';
import { PI_OVER_2 } from '../../../src/machine/arithmetic/coefficients.js';
import {
  besideSquare,
  cosine,
  exponential,
  power,
  squareRoot,
  tangent,
} from '../../../src/machine/arithmetic/functions.js';
import { SMALLEST_NUMBER } from '../../../src/machine/numbers.js';

describe('EXP (1C5B)', () => {
  test('is 0 below the smallest number, which itself is still there', () => {
    expect(exponential(-88.72)).toBeGreaterThanOrEqual(SMALLEST_NUMBER);
    // e^-89 is nearer to the smallest number than to 0.
    for (const x of [-88.75, -89, -100, -1e10, -1e38]) expect(exponential(x)).toBe(0);
  });

  test('is report 6 from 2^127 on, and where its argument is too large to be divided by LN 2', () => {
    expect(exponential(88.02)).toBeLessThan(2 ** 127);
    for (const x of [88.03, 200, 1e10, 1e38, 1.7e38]) expect(exponential(x)).toBeNaN();
  });
});

describe('** (1DDB)', () => {
  test('of 0 is 1 to the power 0, 0 to those above, and report 6 to those below', () => {
    expect([power(0, 0), power(0, 0.1), power(0, 2)]).toEqual([1, 0, 0]);
    expect(power(0, -0.1)).toBeNaN();
    expect(squareRoot(0)).toBe(0);
  });

  test('reaches both ends of the numbers', () => {
    expect(power(2, -128)).toBe(SMALLEST_NUMBER);
    expect(power(2, 126)).toBe(2 ** 126);
    expect(power(2, 127)).toBeNaN();
  });
});

describe('angles (1D3E)', () => {
  test('at a quarter of a turn COS is 0, so that TAN is report 6', () => {
    expect([cosine(PI_OVER_2), cosine(-PI_OVER_2)]).toEqual([0, 0]);
    expect(tangent(PI_OVER_2)).toBeNaN();
  });

  test('beyond a quarter the angle is mirrored first: COS has no more bits than that leaves', () => {
    const unit = 2 ** -31;
    expect(cosine(PI_OVER_2 + unit)).toBe(0);
    const next = cosine(PI_OVER_2 + 2 * unit);
    expect(next).toBeLessThan(0);
    for (let k = 3; k < 40; k++) {
      const steps = cosine(PI_OVER_2 + k * unit) / next;
      expect(Math.abs(steps - Math.round(steps))).toBeLessThan(2 ** -20);
    }
  });
});

test('1-x², of which ASN takes the root, is below 0 from the first number above 1', () => {
  expect([besideSquare(1), besideSquare(-1), besideSquare(0)]).toEqual([0, 0, 1]);
  expect(besideSquare(1 + 2 ** -31)).toBeLessThan(0);
});
