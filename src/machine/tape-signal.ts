/**
 * The signal that the machine's SAVE sends to the tape socket, and its LOAD expects.
 * Source: the published ROM disassembly (Logan and O'Hara, 1982), SAVE routine, from memory.
 * Times are in microseconds unless a name says otherwise.
 */

import { CLOCK_HZ } from './clock.js';

/** Pulses that make a bit: 0 and 1. */
export const PULSES_OF_BIT: readonly [number, number] = [4, 9];
/** Time that the socket is high in one pulse. */
export const PULSE_HIGH_US = 150;
/** Time that the socket is low in one pulse. */
export const PULSE_LOW_US = 150;
/** The rest after the last pulse of a bit, in T-states: 256 rounds of a 17 T-state loop. */
export const REST_T_STATES = 256 * 17;
/** The same in microseconds: about 1339. It follows the last pulse's own low time. */
export const REST_US = (REST_T_STATES * 1e6) / CLOCK_HZ;
/** Silence that SAVE sends before the name. */
export const LEAD_SECONDS = 5;
/** Seconds of a 0 and of a 1. */
export const BIT_SECONDS: readonly [number, number] = [secondsOf(0), secondsOf(1)];
/** Pulses a second. */
export const PULSE_HZ = 1e6 / (PULSE_HIGH_US + PULSE_LOW_US);
/** Set on the last character of the name that is sent before the image. */
export const NAME_END = 0x80;
/** Slowest and fastest tape that is followed, against the machine's own speed. */
export const SLOWEST = 0.68;
export const FASTEST = 1.36;

function secondsOf(bit: 0 | 1): number {
  return (PULSES_OF_BIT[bit] * (PULSE_HIGH_US + PULSE_LOW_US) + REST_US) / 1e6;
}
