/** Bits whose time is wrong, against those around them. */
import { describe, expect, it } from 'vitest';
import { weakenMistimed } from '../../../src/tape/mending/bit-lengths.js';
import { timed } from '../bits.js';

describe('a bit in the middle of others', () => {
  const AT = 20;
  /** How sure it is in the end, if it was so sure and is so many microseconds longer. */
  const sureOf = (sure: number, microseconds: number): number => {
    const more = microseconds / 1e6;
    const bits = timed(Array.from({ length: 40 }, (_, i) => (i % 3 === 0 ? 1 : 0))).map(
      (bit, i) => ({
        ...bit,
        start: bit.start + (i > AT ? more : 0),
        end: bit.end + (i >= AT ? more : 0),
        sure: i === AT ? sure : 1,
      }),
    );
    return weakenMistimed(bits)[AT].sure;
  };

  it('is believed where its time is right', () => {
    expect(sureOf(1, 0)).toBe(1);
    expect(sureOf(0.5, 0)).toBe(0.5);
  });

  it.each([-300, -200, 200, 1000])('is in doubt where it is %i µs too long', (microseconds) => {
    expect(sureOf(1, microseconds)).toBe(0.4);
    expect(sureOf(0.2, microseconds)).toBe(0.2);
  });

  it.each([-160, 150])('is in doubt for %i µs where it is hardly sure', (microseconds) => {
    expect(sureOf(1, microseconds)).toBe(1);
    expect(sureOf(0.66, microseconds)).toBe(0.66);
    expect(sureOf(0.64, microseconds)).toBe(0.4);
  });
});
