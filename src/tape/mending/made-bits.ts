/** Bits that were not heard, and are put where a byte is known or has to be guessed. */
import type { TapeBit } from '../hearing/bit-finder.js';
import type { SettledBit } from './zone-settling.js';

/** The bits of these bytes, without a time of their own: before one that was heard. */
export function madeBefore(bytes: Uint8Array, { start, speed }: TapeBit): SettledBit[] {
  return valuesOf(bytes).map((bit) => made(timeless(bit, { start, speed })));
}

/** A bit without a time of its own, beside one that was heard. */
export const timeless = (bit: 0 | 1, { start, speed }: Pick<TapeBit, 'start' | 'speed'>) => ({
  bit,
  start,
  rest: start,
  end: start,
  speed,
});

/** The bits of these bytes, at the times of as many that were heard in their place. */
export function madeOver(bytes: Uint8Array, heard: readonly TapeBit[]): SettledBit[] {
  return valuesOf(bytes).map((bit, i) => made({ ...heard[i], bit }));
}

function valuesOf(bytes: Uint8Array): (0 | 1)[] {
  return [...bytes].flatMap((byte) =>
    Array.from({ length: 8 }, (_, i): 0 | 1 => ((byte >> (7 - i)) & 1 ? 1 : 0)),
  );
}

/** Sure, so that nothing is settled anew; and in doubt all the same. */
function made(bit: Omit<TapeBit, 'sure' | 'other'>): SettledBit {
  return { ...bit, sure: 1, other: undefined, chosen: true };
}
