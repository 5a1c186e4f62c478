/**
 * The machine's arithmetic: values that its ROM gives. Source: G. Wearmouth, "An Assembly Listing of
 * the Operating System" (2004), by routine and address; I. Logan and F. O'Hara, ROM disassembly
 * (1982), of division.
 */
import { describe, expect, test } from 'vitest';
import { numberOfDecimal } from '../../src/machine/arithmetic/decimal.js';
import { numberText } from '../../src/machine/arithmetic/digits.js';
import * as functions from '../../src/machine/arithmetic/functions.js';
import {
  add,
  divide,
  multiply,
  subtract,
  wholeOf,
} from '../../src/machine/arithmetic/operations.js';
import { NUMBER_SIZE, writeNumber } from '../../src/machine/numbers.js';

function hex(value: number): string {
  const bytes = new Uint8Array(NUMBER_SIZE);
  writeNumber(value, bytes, 0);
  return bytes.reduce((text, byte) => text + byte.toString(16).padStart(2, '0'), '').toUpperCase();
}

const typed = numberOfDecimal;

describe('literals, digit by digit (DEC-TO-FP 14D9, E-TO-FP 155A)', () => {
  test.each([
    ['.5', '7F7FFFFFFF'],
    ['.1', '7D4CCCCCCC'],
    ['.25', '7E7FFFFFFF'],
    ['.125', '7D7FFFFFFF'],
    ['.05', '7C4CCCCCCC'],
    ['.01', '7A23D70A3D'],
    ['.001', '7703126E97'],
    ['.57', '8011EB851E'],
    ['1.1', '810CCCCCCD'],
    ['2.54', '82228F5C29'],
    ['3.14159', '82490FCF81'],
    ['99.95', '8747E66667'],
    ['1E5', '9143500000'],
    ['1E-5', '7027C5AC46'],
    ['1E10', 'A21502F900'],
    ['1E38', 'FF16769952'],
    ['1E-38', '0259C7DCEB'],
    ['123456.789', '91712064FE'],
  ])('%s is %s', (literal, bytes) => {
    expect(hex(typed(literal))).toBe(bytes);
  });

  test('a point alone is 0; an exponent without digits counts nothing (15)', () => {
    expect(typed('.')).toBe(0);
    expect(typed('1E')).toBe(1);
    expect(typed('1E+')).toBe(1);
  });

  test('zeros that say nothing change nothing; whole numbers are exact', () => {
    expect(typed('0.50')).toBe(typed('.5'));
    expect(typed('007')).toBe(7);
    expect(typed('4294967295')).toBe(4294967295);
    expect(typed('1E39')).toBeNaN();
    expect(typed('1E-60')).toBe(0);
    expect(typed('0E999999999')).toBe(0);
  });
});

describe('the four operations (1755, 17C6, 1882)', () => {
  test.each([
    ['1/3', divide(1, 3), '7F2AAAAAAA'],
    ['1/10', divide(1, 10), '7D4CCCCCCC'],
    ['2/3', divide(2, 3), '802AAAAAAA'],
    ['0.1*3', multiply(typed('0.1'), 3), '7F19999999'],
  ])('%s is stored as it is there', (_, value, bytes) => {
    expect(hex(value)).toBe(bytes);
  });

  test('equality is a subtraction, and its order counts', () => {
    expect(subtract(typed('.5'), divide(1, 2))).toBe(0);
    expect(subtract(divide(1, 2), typed('.5'))).not.toBe(0);
    expect(subtract(typed('.25'), divide(1, 4))).toBe(0);
  });

  test('a tenth taken ten times is less than one', () => {
    expect(Math.floor(multiply(typed('.1'), 10))).toBe(0);
    expect(Math.floor(multiply(typed('.57'), 100))).toBe(56);
  });

  test('what is too large is report 6; what is too small is the smallest number, or 0', () => {
    const largest = (2 ** 32 - 1) * 2 ** 95;
    expect(add(largest, largest)).toBeNaN();
    expect(multiply(largest, 2)).toBeNaN();
    expect(divide(largest, 0.25)).toBeNaN();
    expect(divide(1, 0)).toBeNaN();
    expect(divide(2 ** -128, 2)).toBe(2 ** -128);
    expect(divide(2 ** -128, 4)).toBe(0);
  });
});

describe('add and subtract (1755)', () => {
  const unit = 2 ** -31;

  test('the last bit lost rounds up, towards +∞, whatever the sign', () => {
    expect(add(1, unit / 2)).toBe(1 + unit);
    expect(add(1, unit / 4)).toBe(1);
    expect(add(-1, unit / 2)).toBe(-1 + unit);
    expect(add(-1, -unit / 2)).toBe(-1);
    expect(add(-1, (-3 * unit) / 4)).toBe(-1 - unit);
  });

  test('an operand 33 places below the other counts nothing', () => {
    expect(add(1, 2 ** -32)).toBe(1 + unit);
    expect(add(1, -(2 ** -33))).toBe(1);
    expect(add(1, 2 ** -33)).toBe(1);
    expect(subtract(2 ** 40, 1)).toBe(2 ** 40);
  });

  test('a carry out shifts once more, rounded alike', () => {
    const most = 2 - unit;
    expect(add(most, most)).toBe(4 - 2 * unit);
    expect(add(most, 1)).toBe(3);
    expect(add(-most, -1)).toBe(-3 + 2 * unit);
  });
});

describe('whole numbers that commands take (FP-TO-BC 158A)', () => {
  test.each([
    [typed('.5'), 0],
    [divide(1, 2), 1],
    [-divide(1, 2), -1],
    [typed('2.5'), 3],
    [divide(5, 2), 3],
    [-typed('.3'), 0],
    [255.25, 255],
    [-255.75, -256],
  ])('%d is %d', (value, whole) => {
    expect(wholeOf(value)).toBe(whole);
  });
});

describe('functions (1A7F to 1DDB)', () => {
  test('SQR 25 is not 5, though it prints as 5', () => {
    expect(hex(functions.squareRoot(25))).toBe('8320000001');
    expect(numberText(functions.squareRoot(25))).toBe('5');
  });

  test('of the first ten squares, those of 1, 2, 3, 4 and 8 come back whole', () => {
    const numbers = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
    expect(numbers.filter((n) => functions.squareRoot(n * n) === n)).toEqual([1, 2, 3, 4, 8]);
  });

  test('3**2 is not 9; INT SQR 361 is 18', () => {
    expect(functions.power(3, 2)).not.toBe(9);
    expect(Math.floor(functions.squareRoot(361))).toBe(18);
  });

  test('π/2 is the ROM’s constant', () => {
    expect(hex(functions.PI / 2)).toBe('81490FDAA2');
  });
});

describe('numbers in digits (PRINT-FP 15DB)', () => {
  test.each([
    [0, '0'],
    [-1, '-1'],
    [typed('.5'), '0.5'],
    [divide(1, 3), '0.33333333'],
    [typed('.1'), '0.1'],
    [typed('.05'), '.05'],
    [typed('-.05'.slice(1)) * -1, '-.05'],
    [typed('.00001'), '.00001'],
    [typed('.000001'), '1E-6'],
    [typed('1E13'), '1E+13'],
    [typed('999999999999'), '1000000000000'],
    [typed('9999999999999'), '1E+13'],
    [typed('123456.789'), '123456.79'],
    [typed('1.5E-20'), '1.5E-20'],
    [typed('12345678901'), '12345679000'],
    [2 ** 32, '4294967300'],
    [(2 ** 32 - 1) * 2 ** 95, '1.7014118E+38'],
  ])('%d shows as %s', (value, text) => {
    expect(numberText(value)).toBe(text);
  });
});
