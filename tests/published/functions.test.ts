/**
 * The machine's functions, as a listing computes them, against printed tables to the eight digits
 * that it shows: M. Abramowitz and I. Stegun, "Handbook of Mathematical Functions" (1964), by table;
 * values from memory. And against the computer's own functions over drawn values.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { roundNumber } from '../../src/machine/numbers.js';
import { play, printed, shows } from '../rehearsal/play.js';

describe('tables', () => {
  test.each([
    // Tables 1.1 and 3.1: roots
    ['SQR 2', '1.4142136'],
    ['SQR 3', '1.7320508'],
    ['SQR 5', '2.236068'],
    ['SQR 7', '2.6457513'],
    ['SQR 10', '3.1622777'],
    ['SQR 100', '10'],
    // Table 4.2: natural logarithms
    ['LN 2', '0.69314718'],
    ['LN 3', '1.0986123'],
    ['LN 10', '2.3025851'],
    ['LN 1', '0'],
    ['LN .5', '-0.69314718'],
    // Table 4.4: exponentials
    ['EXP 1', '2.7182818'],
    ['EXP .5', '1.6487213'],
    ['EXP -1', '0.36787944'],
    ['EXP 10', '22026.466'],
    ['EXP 0', '1'],
    // Tables 4.6 and 4.10: circular functions of radians and of parts of a turn
    ['SIN .5', '0.47942554'],
    // .841470985 to nine digits, of which the machine rounds the ninth once more
    ['SIN 1', '0.84147099'],
    ['COS .5', '0.87758256'],
    ['COS 1', '0.54030231'],
    ['TAN 1', '1.5574077'],
    ['SIN (PI/6)', '0.5'],
    ['SIN (PI/4)', '0.70710678'],
    ['COS (PI/3)', '0.5'],
    ['TAN (PI/4)', '1'],
    // Table 4.14: inverse circular functions
    ['ATN 1', '0.78539816'],
    ['ATN .5', '0.46364761'],
    ['ASN .5', '0.52359878'],
    ['ACS .5', '1.0471976'],
    ['4*ATN 1', '3.1415927'],
  ])('%s is %s', (expression, value) => {
    expect(shows(expression)).toBe(value);
  });
});

/** What `LET Y=…` leaves in Y where X is a value that the machine has. */
function result(expression: string, value: number): number | undefined {
  let found: number | undefined;
  const text = `10 LET X=${value}\n20 LET Y=${expression}`.replaceAll('e', 'E').replace('E+', 'E');
  play(text, {
    inspect: ({ variables, line }) => {
      if (line === 20) found = variables.read(variables.number('Y'));
    },
  });
  return found;
}

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map(roundNumber);

describe('over drawn values', () => {
  /** How far off: a part of the result, and a part of 1, in units of 2^-32. */
  test.each<[string, (x: number) => number, number, number, part?: number, least?: number]>([
    ['SIN X', Math.sin, -100, 100, 8, 200],
    ['COS X', Math.cos, -100, 100, 8, 200],
    ['TAN X', Math.tan, -1.5, 1.5, 200],
    ['ASN X', Math.asin, -1, 1],
    ['ACS X', Math.acos, -1, 1],
    ['ATN X', Math.atan, -1e6, 1e6],
    ['LN X', Math.log, 1e-30, 1e30, 8, 4],
    ['EXP X', Math.exp, -80, 80, 200],
    ['SQR X', Math.sqrt, 0, 1e30, 200],
    ['INT X', Math.floor, -1e6, 1e6],
    ['X**2.5', (x) => x ** 2.5, 0, 1e10, 400],
    ['X/3+X*7-1', (x) => x / 3 + x * 7 - 1, 1, 1e6],
  ])('%s is what the computer makes it', (expression, compute, min, max, part = 8, least = 0) => {
    fc.assert(
      fc.property(between(min, max), (x) => {
        const wanted = compute(x);
        const found = result(expression, x);
        expect(found).toBeDefined();
        expect(Math.abs(found! - wanted)).toBeLessThanOrEqual(
          (Math.abs(wanted) * part + least) * 2 ** -32 + 2 ** -127,
        );
      }),
      { numRuns: process.env.FUZZ ? 20_000 : 60, seed: 27 },
    );
  });
});

describe('programs whose results are known', () => {
  test('primes (table 24.9)', () => {
    const sieve = [
      'FOR N=2 TO 100',
      'FOR D=2 TO SQR N',
      'IF N/D=INT (N/D) THEN GOTO 60',
      'NEXT D',
      'PRINT N;"/";',
      'NEXT N',
    ];
    expect(printed(sieve, { ram: 16384 }).join('').split('/').slice(0, -1).map(Number)).toEqual([
      2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89,
      97,
    ]);
  });

  test('factorials (table 6.3), to eight digits', () => {
    const rows = printed(['LET F=1', 'FOR N=1 TO 14', 'LET F=F*N', 'PRINT F', 'NEXT N'], {
      ram: 2048,
    });
    expect(rows).toEqual([
      '1',
      '2',
      '6',
      '24',
      '120',
      '720',
      '5040',
      '40320',
      '362880',
      '3628800',
      '39916800',
      '479001600',
      '6227020800',
      '87178291000',
    ]);
  });

  test('perfect numbers below 500 (from Euclid, book IX, proposition 36)', () => {
    const lines = [
      'FAST',
      'FOR N=2 TO 500',
      'LET S=1',
      'FOR D=2 TO SQR N',
      'IF N<>D*INT (N/D) THEN GOTO 80',
      'LET S=S+D',
      'IF D*D<>N THEN LET S=S+N/D',
      'NEXT D',
      'IF S=N THEN PRINT N',
      'NEXT N',
    ];
    expect(printed(lines)).toEqual(['6', '28', '496']);
  });

  test('Fibonacci numbers (by their own rule), exact up to 32 bits', () => {
    const rows = printed(
      [
        'LET A=0',
        'LET B=1',
        'FOR N=1 TO 20',
        'LET C=A+B',
        'LET A=B',
        'LET B=C',
        'PRINT A',
        'NEXT N',
      ],
      { ram: 16384 },
    );
    const wanted = [1, 1];
    while (wanted.length < 20) wanted.push(wanted.at(-1)! + wanted.at(-2)!);
    expect(rows.map(Number)).toEqual(wanted);
    expect(rows.at(-1)).toBe('6765');
  });
});
