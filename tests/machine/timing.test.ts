/** The machine's own time, as the rehearsal counts it. */
import { describe, expect, test } from 'vitest';
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
