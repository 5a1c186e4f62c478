/** Source: I. Logan and F. O'Hara, the ROM disassembly (1982), the SAVE routine, from memory. */
import { expect, it } from 'vitest';
import {
  BIT_SECONDS,
  FASTEST,
  PULSE_HZ,
  PULSES_OF_BIT,
  REST_US,
  SLOWEST,
} from '../../src/machine/tape-signal.js';

it('a bit is four pulses or nine of 300 µs, and a rest of 256 rounds of 17 T-states', () => {
  expect(PULSES_OF_BIT).toEqual([4, 9]);
  expect(REST_US).toBeCloseTo(1339.08, 2);
  expect(PULSE_HZ).toBeCloseTo(3333.33, 2);
  expect(BIT_SECONDS[0]).toBeCloseTo(0.002539, 6);
  expect(BIT_SECONDS[1]).toBeCloseTo(0.004039, 6);
});

it('tapes are followed that run at two thirds of the speed, and at four thirds', () => {
  expect(SLOWEST).toBeLessThan(0.7);
  expect(FASTEST).toBeGreaterThan(4 / 3);
});
