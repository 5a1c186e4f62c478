/**
 * The signal that the machine's SAVE sends to the tape socket, and its LOAD expects.
 * Source: the published ROM disassembly (Logan and O'Hara, 1982), SAVE routine, from memory:
 * machine.md, "Tape signal". Times are in microseconds unless a name says otherwise.
 */

/** The processor's clock, in T-states a second. */
export const CLOCK_HZ = 3_250_000;
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
