/**
 * The machine's numbers: five bytes, an exponent plus 128 and a 32-bit mantissa in [½, 1) whose
 * top bit, always 1, is replaced by the sign; zero is five zero bytes.
 * Source: the manual, chapter 27, from memory. How the machine reckons with them: `arithmetic/`.
 */
import { exponentByte, HIGH, LOW, SURPLUS, UNIT, UNITS_IN_ONE, words } from './double.js';

const HEX_BYTES = Array.from({ length: 256 }, (_, byte) =>
  byte.toString(16).toUpperCase().padStart(2, '0'),
);

/** Two hex digits, as listings and messages write bytes. */
export function hexByte(byte: number): string {
  return HEX_BYTES[byte];
}

export const NUMBER_SIZE = 5;
/** The largest number: all mantissa bits set, exponent 127. About 1.7E38. */
export const LARGEST_NUMBER = (1 - 2 ** -32) * 2 ** 127;
/** The smallest number above zero: ½ × 2^-127. About 2.9E-39. */
export const SMALLEST_NUMBER = 2 ** -128;

/**
 * The nearest number that the machine has, halves away from zero; magnitudes below the smallest
 * become 0. Returns NaN when the result is too large (the machine's report 6) or was NaN.
 */
export function roundNumber(value: number): number {
  // Whole numbers of 32 bits are exact: the usual case. (This also turns -0 into 0.)
  if ((value | 0) === value) return value | 0;
  if (!(value < 2 ** 127 && value > -(2 ** 127))) return Number.NaN;
  const exponent = exponentByte(value);
  if (exponent < 0) return 0;
  if ((words[LOW] & SURPLUS) === 0) return exponent === 0 ? 0 : value;
  // By arithmetic: to put words together and read them as a double makes the processor wait.
  const magnitude = value < 0 ? -value : value;
  const rounded = Math.floor(magnitude * UNITS_IN_ONE[exponent] + 0.5) * UNIT[exponent];
  if (rounded > LARGEST_NUMBER) return Number.NaN;
  if (rounded < SMALLEST_NUMBER) return 0;
  return value < 0 ? -rounded : rounded;
}

/**
 * Writes a number's five bytes into `bytes` at `at`. The value must be one that the machine has:
 * use roundNumber first. Throws RangeError for NaN and for what is too large.
 */
export function writeNumber(value: number, bytes: Uint8Array, at: number): void {
  const exponent = exponentByte(value);
  if (exponent < 1 || exponent > 255) {
    if (exponent > 255) throw new RangeError('the number is too large for five bytes');
    bytes.fill(0, at, at + NUMBER_SIZE);
    return;
  }
  const high = words[HIGH];
  const low = words[LOW];
  bytes[at] = exponent;
  bytes[at + 1] = ((high >>> 24) & 0x80) | ((high >>> 13) & 0x7f);
  bytes[at + 2] = high >>> 5;
  bytes[at + 3] = (high << 3) | (low >>> 29);
  bytes[at + 4] = low >>> 21;
}

/** The five bytes of the machine's number nearest to `value`. Throws RangeError when too large. */
export function encodeNumber(value: number): Uint8Array {
  const bytes = new Uint8Array(NUMBER_SIZE);
  writeNumber(roundNumber(value), bytes, 0);
  return bytes;
}

/**
 * The number in five bytes at `at`, exactly. An exponent byte of 0 is zero whatever follows it, as
 * the machine's own arithmetic takes it.
 */
export function decodeNumber(bytes: Uint8Array, at = 0): number {
  const exponent = bytes[at];
  if (exponent === 0) return 0;
  const first = bytes[at + 1];
  const mantissa =
    (((first | 0x80) << 24) | (bytes[at + 2] << 16) | (bytes[at + 3] << 8) | bytes[at + 4]) >>> 0;
  const magnitude = mantissa * UNIT[exponent];
  return first & 0x80 ? -magnitude : magnitude;
}
