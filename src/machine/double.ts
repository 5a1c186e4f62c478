/** One double seen as two words: how the machine's numbers are cut out of it, and put together. */

const scratch = new Float64Array(1);
/** The words of the double of which the exponent was asked last. */
export const words = new Uint32Array(scratch.buffer);
scratch[0] = 1;
export const HIGH = words[1] === 0 ? 0 : 1;
export const LOW = 1 - HIGH;
/** A double's exponent field less this is the machine's exponent byte. */
const FIELD_OVER_BYTE = 894;
/** The bits of a double's low word that the machine has no room for. */
export const SURPLUS = 0x1fffff;
/** What the last bit of a mantissa counts, by exponent byte, and how often it goes into 1. */
export const UNIT = Float64Array.from({ length: 257 }, (_, exponent) => 2 ** (exponent - 160));
export const UNITS_IN_ONE = UNIT.map((unit) => 1 / unit);

/** The exponent byte of a double that is not 0: 1 to 255 if the machine has it. */
export function exponentByte(value: number): number {
  scratch[0] = value;
  return ((words[HIGH] >>> 20) & 0x7ff) - FIELD_OVER_BYTE;
}
