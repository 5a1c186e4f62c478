/** Rows of bits as bytes, and what of these is the image. */
import { NAME_END } from '../../machine/tape-signal.js';

/** The whole bytes of a row of bits, from bit `from` on, high bit first. */
export function bytesOfBits(bits: readonly { readonly bit: 0 | 1 }[], from = 0): Uint8Array {
  const bytes = new Uint8Array(Math.max(0, bits.length - from) >> 3);
  for (let i = 0; i < 8 * bytes.length; i++) {
    if (bits[from + i].bit) bytes[i >> 3] |= 128 >> (i & 7);
  }
  return bytes;
}

/** The same for bytes that begin at bits 0, 8, 16 …, at 1, 9, 17 … and so on: eight rows. */
export function bytesAtShifts(bits: readonly { readonly bit: 0 | 1 }[]): Uint8Array[] {
  return Array.from({ length: 8 }, (_, shift) => bytesOfBits(bits, shift));
}

/** What of the bytes on tape follows the name: nothing if no name ends in them. */
export function imageOfTape(bytes: Uint8Array): Uint8Array {
  const last = bytes.findIndex((byte) => byte >= NAME_END);
  return bytes.subarray(last < 0 ? bytes.length : last + 1);
}

/** Every row of so many bits. */
export function everyRow(length: number): (0 | 1)[][] {
  if (length === 0) return [[]];
  return everyRow(length - 1).flatMap((row): (0 | 1)[][] => [
    [...row, 0],
    [...row, 1],
  ]);
}
