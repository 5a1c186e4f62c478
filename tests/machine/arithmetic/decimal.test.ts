import { describe, expect, it } from 'vitest';
import {
  nearestOfDecimal,
  numberOfDecimal,
  numberOfLiteral,
} from '../../../src/machine/arithmetic/decimal.js';
import { divide, multiply } from '../../../src/machine/arithmetic/operations.js';

describe('a literal', () => {
  it('has its value digit by digit as typed, or the nearest that there is', () => {
    expect(numberOfLiteral('.5', 'typed')).toBe(0.5 - 2 ** -33);
    expect(numberOfLiteral('.5', 'nearest')).toBe(0.5);
  });

  it.each([
    ['12', 12],
    ['.', 0],
    ['0.0', 0],
    ['1E', 1],
    ['2E+3', 2000],
    ['2E-', 2],
    ['5E-1', 0.5],
    ['5E--1', 50],
    ['2.5E2', 250],
    ['999999999999E0', 999999999999],
    ['1E39', Number.NaN],
    ['0E39', 0],
  ])('%s nearest is %d', (text, value) => {
    // 999999999999 has more than 32 bits.
    const rounded = value > 2 ** 32 ? Math.round(value / 2 ** 8) * 2 ** 8 : value;
    expect(nearestOfDecimal(text)).toBe(rounded);
  });

  it('too small for any number is 0, too large for any is none', () => {
    expect(nearestOfDecimal('1E-45')).toBe(0);
    expect(nearestOfDecimal('1E-200')).toBe(0);
    expect(nearestOfDecimal('1E400')).toBeNaN();
    expect(numberOfDecimal('1E39')).toBeNaN();
    expect(numberOfDecimal('1E999999999999999999999999999999999999999')).toBeNaN();
    expect(numberOfDecimal('9'.repeat(40))).toBeNaN();
    expect(numberOfDecimal(`${'9'.repeat(40)}E-9`)).toBeNaN();
    expect(numberOfDecimal('0E99')).toBe(0);
  });

  it.each(['', 'A', '1.2.3', '-1', '1E2E3', ' 1'])('%j is none', (text) => {
    const error = new RangeError(`${text} is not a decimal literal`);
    expect(() => numberOfDecimal(text)).toThrow(error);
    expect(() => nearestOfDecimal(text)).toThrow(error);
  });
});

it('an exponent of seven or more is seven powers of ten at once (E-TO-FP 155A)', () => {
  for (const digits of ['.1', '.3', '.7', '1.1', '3.3', '7.7']) {
    const value = numberOfDecimal(digits);
    expect(numberOfDecimal(`${digits}E7`)).toBe(multiply(value, 1e7));
    expect(numberOfDecimal(`${digits}E8`)).toBe(multiply(multiply(value, 1e7), 10));
    expect(numberOfDecimal(`${digits}E-7`)).toBe(divide(value, 1e7));
    expect(numberOfDecimal(`${digits}E6`)).toBe(
      [1, 2, 3, 4, 5, 6].reduce((x) => multiply(x, 10), value),
    );
  }
});

describe('the nearest number', () => {
  // A half and half of what its last bit counts: as a double each of these is that very number.
  const half = '500000000116415321826934814453125';
  it.each([
    [`.${half}`, 0.5 + 2 ** -32],
    [`0.${half}000`, 0.5 + 2 ** -32],
    [`.${half}1`, 0.5 + 2 ** -32],
    [`.${half.slice(0, -1)}4999`, 0.5],
    [`${half}E-33`, 0.5 + 2 ** -32],
    [`${half.slice(0, -1)}4E-33`, 0.5],
    [`.00${half}E2`, 0.5 + 2 ** -32],
    // Whole numbers of 34 bits, and what lies just below them.
    ['8589934594', 8589934596],
    ['8589934593.9999999999999', 8589934592],
    ['85899345939999999999999E-13', 8589934592],
    ['8589934594.00', 8589934596],
    ['.8589934594E10', 8589934596],
  ])('to %s is %d', (text, value) => {
    expect(nearestOfDecimal(text)).toBe(value);
  });
});
