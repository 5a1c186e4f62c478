/** Bits whose time is wrong, against those around them. */
import { describe, expect, it } from 'vitest';
import { SURE_ENOUGH } from '../../../src/tape/hearing/bit-finder.js';
import type { BitOrder } from '../../../src/tape/hearing/hole-stretch.js';
import { doubtHoles, weakenMistimed } from '../../../src/tape/mending/bit-lengths.js';
import { timed } from '../bits.js';

const AT = 20;

/** How sure a bit is in the end, if it was so sure and is so many microseconds longer; others are uneven by so many. */
function sureOf(sure: number, microseconds: number, uneven: number, moved = 0): number {
  const edge = (i: number) => {
    const isFar = Math.abs(i - AT - 0.5) > 3;
    return (i > AT ? microseconds : 0) + (i === AT ? moved : 0) + (isFar ? uneven * (i % 2) : 0);
  };
  const bits = timed(Array.from({ length: 40 }, (_, i) => (i % 3 === 0 ? 1 : 0))).map((bit, i) => ({
    ...bit,
    start: bit.start + edge(i) / 1e6,
    end: bit.end + edge(i + 1) / 1e6,
    sure: i === AT ? sure : 1,
  }));
  return weakenMistimed(bits)[AT].sure;
}

describe('a bit among uneven ones', () => {
  const UNEVEN = 60;

  it('is believed where its time is right', () => {
    expect(sureOf(1, 0, UNEVEN)).toBe(1);
    expect(sureOf(0.8, 0, UNEVEN)).toBe(0.8);
  });

  it.each([-400, -280, 280, 1000])('is in doubt where it is %i µs too long', (microseconds) => {
    expect(sureOf(1, microseconds, UNEVEN)).toBe(0.4);
    expect(sureOf(0.2, microseconds, UNEVEN)).toBe(0.2);
  });

  it.each([-200, 200])('is in doubt for %i µs where it is hardly sure', (microseconds) => {
    expect(sureOf(1, microseconds, UNEVEN)).toBe(1);
    expect(sureOf(0.66, microseconds, UNEVEN)).toBe(0.66);
    expect(sureOf(0.64, microseconds, UNEVEN)).toBe(0.4);
  });
});

describe('a bit among even ones', () => {
  it.each([-50, 60, -190])('is in doubt where it is %i µs too long', (microseconds) => {
    expect(sureOf(1, microseconds, 0)).toBe(0.4);
  });

  it('is believed where it is less, unless it is less sure than others', () => {
    expect(sureOf(1, 38, 0)).toBe(1);
    expect(sureOf(0.9, 38, 0)).toBe(0.4);
    expect(sureOf(0.96, 38, 0)).toBe(0.96);
    expect(sureOf(0.9, 10, 0)).toBe(0.9);
  });

  it('is believed where only the edge between two is moved, as a click does', () => {
    expect(sureOf(1, 0, 0, 150)).toBe(1);
  });
});

describe('bits under a hole', () => {
  const hole: readonly BitOrder[] = [{ bits: [0, 1], cost: 0 }];
  const row = (lengthened: number) =>
    timed(Array.from({ length: 40 }, () => 0)).map((bit, i) => ({
      ...bit,
      start: bit.start + (i > 30 ? lengthened : 0),
      end: bit.end + (i >= 30 ? lengthened : 0),
      ...(i === 10 || i === 11 ? { hole } : {}),
    }));

  it('stay as they are where all others take their time', () => {
    const bits = row(0);
    expect(doubtHoles(bits)).toBe(bits);
  });

  it('are in doubt where another one does not', () => {
    const doubted = doubtHoles(row(0.0003));
    expect(doubted.filter(({ sure }) => sure < SURE_ENOUGH)).toHaveLength(2);
    expect(doubted.some((bit) => bit.hole !== undefined)).toBe(false);
  });
});
