/** Bits that were not heard, and are put where a byte is known or has to be guessed. */
import type { TapeBit } from './bit-finder.js';
import type { SettledBit } from './zone-settling.js';

/** The bits of these bytes, without a time of their own: at that of a bit that was heard. */
export function madeOf(bytes: Uint8Array, { start, speed }: TapeBit): SettledBit[] {
  return [...bytes].flatMap((byte) =>
    Array.from({ length: 8 }, (_, i): SettledBit => {
      const bit = (byte >> (7 - i)) & 1 ? 1 : 0;
      // Sure, so that nothing is settled anew; and in doubt all the same.
      const doubt = { sure: 1, other: undefined, chosen: true };
      return { bit, start, rest: start, end: start, speed, ...doubt };
    }),
  );
}
