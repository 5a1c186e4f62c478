/**
 * The machine's numbers: five bytes, an exponent plus 128 and a 32-bit mantissa in [½, 1) whose
 * top bit, always 1, is replaced by the sign; zero is five zero bytes.
 * Source: the manual, chapter 27, from memory.
 */

export const NUMBER_SIZE = 5;
/** The largest number: all mantissa bits set, exponent 127. About 1.7E38. */
export const LARGEST_NUMBER = (1 - 2 ** -32) * 2 ** 127;
/** The smallest number above zero: ½ × 2^-127. About 2.9E-39. */
export const SMALLEST_NUMBER = 2 ** -128;

const scratch = new DataView(new ArrayBuffer(8));

/** Exponent e of a positive normal double, with v in [2^(e-1), 2^e). */
function exponentOf(value: number): number {
  scratch.setFloat64(0, value);
  return ((scratch.getUint16(0) >> 4) & 0x7ff) - 1022;
}

/**
 * The nearest number that the machine has, halves away from zero; magnitudes below the smallest
 * become 0. Returns NaN when the result is too large (the machine's report 6) or was NaN.
 */
export function roundNumber(value: number): number {
  const magnitude = Math.abs(value);
  if (magnitude < 2 ** -1022) return 0;
  if (!(magnitude < Infinity)) return Number.NaN;
  const unit = 2 ** (exponentOf(magnitude) - 32);
  const rounded = Math.floor(magnitude / unit + 0.5) * unit;
  if (rounded > LARGEST_NUMBER) return Number.NaN;
  if (rounded < SMALLEST_NUMBER) return 0;
  return value < 0 ? -rounded : rounded;
}

/**
 * Writes a number's five bytes into `bytes` at `at`. The value must be one that the machine has:
 * use roundNumber first. Throws RangeError for NaN and for what is too large.
 */
export function writeNumber(value: number, bytes: Uint8Array, at: number): void {
  if (value === 0) {
    bytes.fill(0, at, at + NUMBER_SIZE);
    return;
  }
  const magnitude = Math.abs(value);
  if (!(magnitude <= LARGEST_NUMBER))
    throw new RangeError('the number is too large for five bytes');
  const exponent = exponentOf(magnitude);
  const mantissa = Math.round(magnitude * 2 ** (32 - exponent));
  bytes[at] = exponent + 128;
  bytes[at + 1] = ((mantissa >>> 24) & 0x7f) | (value < 0 ? 0x80 : 0);
  bytes[at + 2] = mantissa >>> 16;
  bytes[at + 3] = mantissa >>> 8;
  bytes[at + 4] = mantissa;
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
  const high = bytes[at + 1];
  const mantissa =
    ((high | 0x80) * 0x1000000 + (bytes[at + 2] << 16) + (bytes[at + 3] << 8) + bytes[at + 4]) *
    2 ** (exponent - 160);
  return high & 0x80 ? -mantissa : mantissa;
}

/**
 * The machine's number nearest to a decimal literal such as `12`, `.5`, `1.5E-3`, correctly rounded
 * from all its digits (halves away from zero). NaN when it is too large.
 */
export function numberOfDecimal(text: string): number {
  const double = Number(text);
  if (Number.isInteger(double) && double < 0x100000000)
    return isExactInteger(text) ? double : settle(text, double);
  return settle(text, double);
}

/** Short whole numbers are exact as they are: the usual case, and the quick one. */
function isExactInteger(text: string): boolean {
  return text.length <= 10 && /^\d+$/.test(text);
}

/**
 * Rounding first to a double and then to 32 bits goes wrong only where the double lies exactly
 * halfway between two of the machine's numbers; there the digits themselves decide.
 */
function settle(text: string, double: number): number {
  if (double === 0 || !(double < 2 ** 128)) return double === 0 ? 0 : Number.NaN;
  if (double < 2 ** -140) return 0;
  const unit = 2 ** (exponentOf(double) - 32);
  const scaled = double / unit;
  const whole = Math.floor(scaled);
  if (scaled - whole === 0.5 && compareDecimal(text, double) < 0) return roundNumber(whole * unit);
  return roundNumber(double);
}

/** Sign of (the exact value of the literal minus the double). */
function compareDecimal(text: string, double: number): number {
  const match = /^(\d*)\.?(\d*)(?:E([+-]?\d+))?$/i.exec(text);
  if (match === null) throw new RangeError(`${text} is not a decimal literal`);
  const fraction = match[2].replace(/0+$/, '');
  let left = BigInt(match[1] + fraction);
  const tens = Number(match[3] ?? 0) - fraction.length;
  let exponent = 0;
  let mantissa = double;
  while (!Number.isInteger(mantissa)) {
    mantissa *= 2;
    exponent--;
  }
  let right = BigInt(mantissa);
  if (exponent < 0) left <<= BigInt(-exponent);
  if (tens >= 0) left *= 10n ** BigInt(tens);
  else right *= 10n ** BigInt(-tens);
  return left < right ? -1 : left > right ? 1 : 0;
}
