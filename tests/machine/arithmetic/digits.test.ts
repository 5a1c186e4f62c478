import { describe, expect, test } from 'vitest';
import { numberText } from '../../../src/machine/arithmetic/digits.js';
import { roundNumber } from '../../../src/machine/numbers.js';

describe('numbers as they are printed', () => {
  test.each([
    [0, '0'],
    [1, '1'],
    [-1, '-1'],
    [0.5, '0.5'],
    [-0.25, '-0.25'],
    [100, '100'],
    [12345678, '12345678'],
    [123456789, '123456790'],
    [4294967296, '4294967300'],
    [roundNumber(1 / 3), '0.33333333'],
    [roundNumber(2 / 3), '0.66666667'],
    [roundNumber(1e-5), '.00001'],
    [roundNumber(0.000012345678), '.000012345678'],
    [roundNumber(9.9e-6), '9.9E-6'],
    [roundNumber(1e-38), '1E-38'],
    [9999999999999, '1E+13'],
    [1e12, '1000000000000'],
    [1e13, '1E+13'],
    [roundNumber(-1.2345e20), '-1.2345E+20'],
    [roundNumber(99999999.5), '100000000'],
    [roundNumber(1.7e38), '1.7E+38'],
  ])('%d is %s', (value, text) => {
    expect(numberText(value)).toBe(text);
  });
});
