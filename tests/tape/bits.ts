/** Bits as a clear recording gives them, without the sound; and those that are heard in a sound. */
import { BIT_SECONDS } from '../../src/machine/tape-signal.js';
import { BitFinder, type TapeBit } from '../../src/tape/hearing/bit-finder.js';
import { type TapeProgram, tapeBytes } from '../../src/tape/writing/tape-bytes.js';
import type { Sound } from './damage.js';

/** The bits of a program, one after the other from 0 s on. */
export function bitsOf(program: TapeProgram): TapeBit[] {
  return timed(valuesOf(tapeBytes(program)));
}

/** The bits of these bytes, high bit first. */
export function valuesOf(bytes: Uint8Array): (0 | 1)[] {
  return [...bytes].flatMap((byte) =>
    Array.from({ length: 8 }, (_, i): 0 | 1 => ((byte >> (7 - i)) & 1 ? 1 : 0)),
  );
}

/** These bits, each right after the one before. */
export function timed(values: readonly (0 | 1)[]): TapeBit[] {
  let end = 0;
  return values.map((bit) => {
    const start = end;
    end += BIT_SECONDS[bit];
    return { bit, start, rest: end - 0.0013, end, sure: 1, other: undefined, speed: 1 };
  });
}

/** The bits that are heard in this sound. */
export function heardBits({ rate, samples }: Sound): TapeBit[] {
  const bits: TapeBit[] = [];
  const finder = new BitFinder(rate, (bit) => bits.push(bit));
  finder.push(samples, samples.length);
  finder.finish();
  return bits;
}
