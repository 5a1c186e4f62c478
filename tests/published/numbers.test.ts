/**
 * Five-byte numbers against the ROM's own constants (I. Logan and F. O'Hara, ROM disassembly, 1982,
 * table of constants, from memory) and against IEEE 754 doubles, whose 53 bits hold every one of the
 * machine's 32-bit numbers exactly.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestOfDecimal } from '../../src/machine/arithmetic/decimal.js';
import {
  decodeNumber,
  encodeNumber,
  LARGEST_NUMBER,
  roundNumber,
  SMALLEST_NUMBER,
} from '../../src/machine/numbers.js';

const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex').toUpperCase();
const RUNS = process.env.FUZZ ? 5_000_000 : 100_000;

describe('the ROM’s constants', () => {
  it.each([
    [0, '0000000000'],
    [1, '8100000000'],
    [0.5, '8000000000'],
    [Math.PI / 2, '81490FDAA2'],
    [10, '8420000000'],
    [-1, '8180000000'],
  ])('%d is %s', (value, bytes) => {
    expect(hex(encodeNumber(value))).toBe(bytes);
  });
});

describe('against IEEE 754 doubles', () => {
  it(`is within half a unit of the 32nd bit for ${RUNS} drawn values`, () => {
    const exponent = fc.integer({ min: -126, max: 126 });
    const mantissa = fc.double({ min: 0.5, max: 1, maxExcluded: true, noNaN: true });
    fc.assert(
      fc.property(exponent, mantissa, fc.boolean(), (e, m, negative) => {
        const value = (negative ? -m : m) * 2 ** e;
        const back = decodeNumber(encodeNumber(value));
        // A unit of the 32nd bit of a mantissa in [½, 1) times 2^e.
        return Math.abs(back - value) <= 2 ** (e - 33);
      }),
      { numRuns: RUNS, seed: 754 },
    );
  });

  it('takes the digits of a decimal to the nearest number, without rounding twice', () => {
    fc.assert(
      fc.property(
        fc.stringMatching(/^[1-9][0-9]{0,24}$/),
        fc.integer({ min: -30, max: 12 }),
        (digits, tens) => {
          const got = nearestOfDecimal(`${digits}E${tens}`);
          // Exact arithmetic with whole numbers: |got − digits × 10^tens| ≤ half a unit.
          const scale = 10n ** BigInt(Math.max(0, -tens)) * 2n ** 200n;
          const exact = BigInt(digits) * 10n ** BigInt(Math.max(0, tens)) * 2n ** 200n;
          const exponent = Math.floor(Math.log2(got)) + 1;
          const mantissa = BigInt(Math.round(got * 2 ** (32 - exponent)));
          const gotExact =
            exponent >= 32
              ? mantissa * 2n ** BigInt(exponent - 32) * scale
              : (mantissa * scale) / 2n ** BigInt(32 - exponent);
          const unit = (scale * 2n ** 100n) / 2n ** BigInt(132 - exponent);
          const difference = gotExact > exact * 1n ? gotExact - exact : exact - gotExact;
          return difference * 2n <= unit;
        },
      ),
      { numRuns: RUNS / 20, seed: 32 },
    );
  });

  it('decides by the digits where a double falls halfway between two numbers', () => {
    // Numbers from 2^33 up lie 4 apart: 8589934594 is halfway between two of them.
    expect(nearestOfDecimal('8589934594')).toBe(8589934596);
    expect(nearestOfDecimal('8589934593.99999999999999999999')).toBe(8589934592);
    expect(nearestOfDecimal('8589934594.00000000000000000001')).toBe(8589934596);
  });

  it('keeps its limits', () => {
    expect(hex(encodeNumber(LARGEST_NUMBER))).toBe('FF7FFFFFFF');
    expect(hex(encodeNumber(SMALLEST_NUMBER))).toBe('0100000000');
    expect(roundNumber(2 ** 127)).toBeNaN();
    expect(roundNumber(SMALLEST_NUMBER / 4)).toBe(0);
    expect(LARGEST_NUMBER).toBeCloseTo(1.7014118e38, -32);
  });

  it('has an inverse: every number comes back from its bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 5, maxLength: 5 }), (bytes) => {
        if (bytes[0] === 0) return decodeNumber(bytes) === 0;
        return hex(encodeNumber(decodeNumber(bytes))) === hex(bytes);
      }),
      { numRuns: RUNS / 10, seed: 5 },
    );
  });
});
