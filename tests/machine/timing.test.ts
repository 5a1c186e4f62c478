/** The machine's own time, as the rehearsal counts it. */

import { describe, expect, test } from 'vitest';
import { CLOCK_HZ } from '../../src/machine/clock.js';
import {
  DIGITS_PRINTED,
  FUNCTION_TIMES,
  frameTimes,
  timeOfProduct,
  timeOfQuotient,
  timeOfSum,
} from '../../src/machine/timing.js';
import { BENCHMARKS, benchmarkSeconds } from '../bench/benchmarks.js';
import { play } from '../rehearsal/play.js';

/**
 * Against the eight benchmarks as printed for the machine in FAST (from memory). The model counts, so
 * that this is no measurement of the computer that runs the test.
 */
describe('published benchmarks', () => {
  test.each(BENCHMARKS)('$name: within 15 % of $seconds s', ({ lines, seconds }) => {
    expect(Math.abs(benchmarkSeconds(lines) / seconds - 1)).toBeLessThan(0.15);
  });

  test('their mean is within 5 %', () => {
    const ratios = BENCHMARKS.map(({ lines, seconds }) => benchmarkSeconds(lines) / seconds);
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    expect(Math.abs(mean - 1)).toBeLessThan(0.05);
  });
});

describe('what takes longer', () => {
  const seconds = (...lines: string[]): number => play(['FAST', ...lines], { ram: 16384 }).seconds;
  const loop = (statement: string): string[] => ['FOR N=1 TO 50', statement, 'NEXT N'];

  test.each([
    ['a function by its series', 'LET A=SIN N', 'LET A=N'],
    ['a power than a product', 'LET A=N**2', 'LET A=N*N'],
    ['a quotient than a sum', 'LET A=N/3', 'LET A=N+3'],
    ['a longer text', 'PRINT AT 0,0;"ABCDEFGHIJ"', 'PRINT AT 0,0;"A"'],
    ['SCROLL in a long display', 'SCROLL', 'REM'],
  ])('%s', (_, slow, quick) => {
    expect(seconds(...loop(slow))).toBeGreaterThan(seconds(...loop(quick)));
  });

  test('a variable that stands behind others', () => {
    const others = [...'ABCDEFGH'].map((name) => `LET ${name}=1`);
    const behind = seconds(...others, 'LET Z=1', ...loop('LET Z=Z'));
    const before = seconds('LET Z=1', ...others, ...loop('LET Z=Z'));
    expect(behind).toBeGreaterThan(before);
  });

  test('a line that GOTO finds late', () => {
    const rems = new Array(30).fill('REM');
    const late = [...rems, 'LET K=0', 'LET K=K+1', 'IF K<50 THEN GOTO 330'];
    const early = ['LET K=0', 'LET K=K+1', 'IF K<50 THEN GOTO 30', ...rems];
    expect(play(['FAST', ...late]).report).toBe('0/340');
    expect(seconds(...late)).toBeGreaterThan(seconds(...early));
  });

  test('SLOW takes about four times as long as FAST (the manual, from memory)', () => {
    const counted = ['FOR N=1 TO 200', 'NEXT N'];
    const fast = play(['FAST', ...counted]).seconds;
    const slow = play(['SLOW', ...counted]).seconds;
    expect(slow / fast).toBeGreaterThan(3.5);
    expect(slow / fast).toBeLessThan(4.5);
  });

  test('60 frames a second leave less of each than 50', () => {
    const slow = (rate: number) => play(`.tv ${rate}\n10 FOR N=1 TO 50\n20 NEXT N`).seconds;
    expect(slow(60)).toBeGreaterThan(slow(50));
  });

  test('the profile says where it went', () => {
    const { profile } = play(['FAST', 'FOR N=1 TO 20', 'LET A=SIN N', 'NEXT N']);
    expect(profile.map(({ line, runs }) => [line, runs])).toEqual([
      [10, 1],
      [20, 1],
      [30, 20],
      [40, 20],
    ]);
    const whole = profile.reduce((sum, { seconds: each }) => sum + each, 0);
    expect(profile[2].seconds / whole).toBeGreaterThan(0.8);
  });
});

describe('the loops of arithmetic', () => {
  test('a product takes as long as its multiplier has bits set, by the bit', () => {
    const bit = timeOfProduct(3) - timeOfProduct(1);
    expect(bit).toBeGreaterThan(0);
    expect(timeOfProduct(0b1010_1010) - timeOfProduct(0b1000_0000)).toBe(3 * bit);
    expect(timeOfProduct(1024)).toBe(timeOfProduct(1));
    expect(timeOfProduct(0xffff) - timeOfProduct(1)).toBe(15 * bit);
    // The mantissa of what is no whole number of 32 bits counts as half set.
    for (const other of [0.1, 2 ** 40]) expect(timeOfProduct(other)).toBe(timeOfProduct(0xffff));
  });

  test('zero is seen before the loop', () => {
    expect(timeOfProduct(0)).toBeLessThan(timeOfProduct(1) / 2);
    expect(timeOfQuotient(0)).toBeLessThan(timeOfQuotient(1) / 2);
    expect(timeOfQuotient(3)).toBe(timeOfQuotient(0.5));
  });

  test('a sum shifts the smaller operand, by the place, whichever it is', () => {
    const place = timeOfSum(2, 1, 3) - timeOfSum(1, 1, 2);
    expect(place).toBeGreaterThan(0);
    expect(timeOfSum(1, 4, 5) - timeOfSum(4, 4, 8)).toBe(2 * place);
    expect(timeOfSum(4, 1, 5)).toBe(timeOfSum(1, 4, 5));
    // A sum with 0 shifts it out of the mantissa: 32 places.
    expect(timeOfSum(7, 0, 7) - timeOfSum(4, 4, 8)).toBe(32 * place);
    expect(timeOfSum(0, 7, 7)).toBe(timeOfSum(7, 0, 7));
  });

  test('a sum that has become short is shifted back, by the place', () => {
    // 8 and 9 have four places each, and their difference has one.
    const turned = timeOfSum(-1, -1, -2) - timeOfSum(1, 1, 2);
    const once = turned / 3;
    expect(once).toBeGreaterThan(0);
    const back = timeOfSum(9, -8, 1) - timeOfSum(9, 8, 17) - once;
    expect(back).toBeGreaterThan(0);
    expect(back % 3).toBe(0);
    expect(timeOfSum(17, -16, 1) - timeOfSum(17, 16, 33) - once).toBe((back / 3) * 4);
    expect(timeOfSum(-8, 9, 1)).toBe(timeOfSum(9, -8, 1));
    // Where one is smaller, the places of the larger count.
    expect(timeOfSum(-1, 9, 8) - timeOfSum(1, 9, 10)).toBe(once);
    expect(timeOfSum(9, -1, 8) - timeOfSum(9, 1, 10)).toBe(once);
  });

  test('each number below 0 is turned round once', () => {
    const once =
      timeOfSum(-4, 9, 5) - timeOfSum(9, 4, 13) - (timeOfSum(9, -4, 5) - timeOfSum(9, 4, 13));
    expect(once).toBe(0);
    const half = timeOfSum(0.5, 0.5, 1);
    const turn = timeOfSum(-0.5, 0.5, 0) - half;
    expect(turn).toBeGreaterThan(0);
    expect(timeOfSum(0.5, -0.5, 0) - half).toBe(turn);
    expect(timeOfSum(-0.5, -0.5, -1) - half).toBe(3 * turn);
    expect(timeOfSum(0, -7, -7) - timeOfSum(0, 7, 7)).toBe(2 * turn);
    // Numbers that are not whole count as two places apart, and their sum as shifted back by one.
    const place = timeOfSum(2, 1, 3) - timeOfSum(1, 1, 2);
    const back = timeOfSum(8, -7, 1) - timeOfSum(8, 7, 15) - turn;
    expect(half - timeOfSum(1, 1, 2)).toBe(2 * place + back / 3);
    expect(timeOfSum(1, 0.5, 1.5)).toBe(half);
    expect(timeOfSum(0.5, 1, 1.5)).toBe(half);
  });
});

describe('functions take what they are made of (the ROM disassembly, from memory)', () => {
  const { SIN, COS, TAN, ATN, ASN, ACS, LN, EXP, SQR, RND, '**': power } = FUNCTION_TIMES;
  const product = timeOfProduct(0.1);
  const quotient = timeOfQuotient(0.1);
  const sum = timeOfSum(0.5, 0.25, 0.75);
  /** The parts, and at most so much more for what moves numbers between them. */
  const isMadeOf = (whole: number, parts: number, more: number) => {
    expect(whole).toBeGreaterThan(parts);
    expect(whole).toBeLessThan(parts * more);
  };

  test('a series takes a product and two sums for each of its terms', () => {
    const term = product + 2 * sum;
    isMadeOf(SIN, 6 * term, 3);
    isMadeOf(EXP, 8 * term, 3);
    isMadeOf(LN, 12 * term, 3);
    isMadeOf(ATN, 12 * term, 3);
    // Four terms more, and about as much besides.
    isMadeOf(ATN - EXP, 4 * term, 3);
  });

  test('TAN is SIN by COS; ** and SQR are EXP of LN; ASN is ATN of what SQR gives, ACS a sum more', () => {
    expect(COS).toBe(SIN);
    expect(TAN).toBe(SIN + COS + quotient);
    isMadeOf(power, LN + EXP + product, 1.02);
    expect(SQR).toBe(power);
    isMadeOf(ASN, ATN + SQR + quotient + 4 * sum, 1.02);
    isMadeOf(ACS - ASN, sum, 2);
  });

  test('RND is a product, a sum, and a quotient for the remainder', () => {
    isMadeOf(RND, product + quotient + 3 * sum, 1.5);
  });

  test('ten digits are printed, each by a quotient and a product', () => {
    isMadeOf(DIGITS_PRINTED, 10 * (quotient + product + sum), 1.7);
  });
});

describe('a frame (the manual and common practice: 50 or 60 pictures a second of 192 lines)', () => {
  test.each([
    [55, 50, 310],
    [31, 60, 262],
  ])('with a margin of %i there are about %i a second', (margin, rate, lines) => {
    const { frame, left } = frameTimes(margin);
    expect(frame).toBe(lines * 207);
    expect(Math.abs(CLOCK_HZ / frame / rate - 1)).toBeLessThan(0.02);
    // SLOW computes while nothing is shown, less what its interrupts take.
    const blank = (lines - 192) / lines;
    expect(left / frame).toBeLessThan(blank);
    expect(left / frame).toBeGreaterThan(blank * 0.6);
  });

  test('leaves something even without a margin', () => {
    expect(frameTimes(0).left).toBeGreaterThan(0);
    expect(frameTimes(0).left).toBeLessThan(frameTimes(10).left);
    expect(frameTimes(10).left).toBeLessThan(frameTimes(11).left);
  });
});
