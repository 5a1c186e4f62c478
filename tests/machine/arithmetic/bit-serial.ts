/**
 * The ROM's four operations once more, on five bytes and one bit at a time, as its routines go:
 * what the quick ones in src/machine/arithmetic are held to. Written from the description of the
 * routines (G. Wearmouth, "An Assembly Listing of the Operating System", 2004), without doubles.
 */

/** Five bytes; undefined stands for report 6. */
export type FiveBytes = readonly number[];
export type Result = FiveBytes | undefined;

const ZERO: FiveBytes = [0, 0, 0, 0, 0];

/** Bits from the highest, as many as there are. */
class Bits {
  constructor(readonly bits: number[]) {}

  static of(bytes: readonly number[]): Bits {
    return new Bits(
      bytes.flatMap((byte) => [7, 6, 5, 4, 3, 2, 1, 0].map((at) => (byte >> at) & 1)),
    );
  }

  get top(): number {
    return this.bits[0];
  }

  get isZero(): boolean {
    return this.bits.every((bit) => bit === 0);
  }

  copy(): Bits {
    return new Bits([...this.bits]);
  }

  /** Adds another of the same length; gives the carry. */
  add(other: readonly number[], carry = 0): number {
    for (let at = this.bits.length - 1; at >= 0; at--) {
      const sum = this.bits[at] + other[at] + carry;
      this.bits[at] = sum & 1;
      carry = sum >> 1;
    }
    return carry;
  }

  /** Adds one at the last bit; gives the carry. */
  increment(): number {
    return this.add(
      this.bits.map(() => 0),
      1,
    );
  }

  negate(): void {
    for (let at = 0; at < this.bits.length; at++) this.bits[at] ^= 1;
    this.increment();
  }

  /** Takes another away; gives the borrow. */
  subtract(other: readonly number[]): number {
    return (
      1 -
      this.add(
        other.map((bit) => bit ^ 1),
        1,
      )
    );
  }

  /** To the right by one, with this bit coming in; gives the bit that goes out. */
  right(bit: number): number {
    this.bits.unshift(bit);
    return this.bits.pop()!;
  }

  left(bit: number): number {
    this.bits.push(bit);
    return this.bits.shift()!;
  }

  get bytes(): number[] {
    const bytes: number[] = [];
    for (let at = 0; at < this.bits.length; at += 8) {
      bytes.push(this.bits.slice(at, at + 8).reduce((byte, bit) => byte * 2 + bit, 0));
    }
    return bytes;
  }
}

const isNegative = (number: FiveBytes): boolean => number[1] >= 0x80;

/** Mantissa with its top bit put back. */
const mantissaOf = ([, first, ...rest]: FiveBytes): Bits => Bits.of([first | 0x80, ...rest]);

/** As PREPARE TO ADD leaves it: a byte of signs and the mantissa, in two's complement. */
function signedMantissa(number: FiveBytes): Bits {
  if (number[0] === 0) return Bits.of(ZERO);
  const bits = new Bits([0, 0, 0, 0, 0, 0, 0, 0, ...mantissaOf(number).bits]);
  if (isNegative(number)) bits.negate();
  return bits;
}

/** SHIFT ADDEND: so many places to the right; the last bit that goes out is added again. */
function shiftAddend(addend: Bits, places: number): Bits {
  if (places === 0) return addend;
  if (places > 32) return Bits.of(ZERO);
  let out = 0;
  for (let at = 0; at < places; at++) out = addend.right(addend.top);
  if (out === 0) return addend;
  const low = new Bits(addend.bits.slice(8));
  if (low.increment() === 1) return Bits.of(ZERO);
  return new Bits([...addend.bits.slice(0, 8), ...low.bits]);
}

export function addBytes(a: FiveBytes, b: FiveBytes): Result {
  const [large, small] = a[0] >= b[0] ? [a, b] : [b, a];
  let exponent = large[0];
  let sum = signedMantissa(large);
  sum.add(shiftAddend(signedMantissa(small), exponent - small[0]).bits);
  // The last two bits of the byte of signs differ where the mantissa has run over.
  if (sum.bits[6] !== sum.bits[7]) {
    sum = shiftAddend(sum, 1);
    exponent++;
    if (exponent === 256) return undefined;
  }
  const negative = sum.top === 1;
  const mantissa = new Bits(sum.bits.slice(8));
  if (negative) {
    mantissa.negate();
    if (mantissa.isZero) {
      mantissa.bits[0] = 1;
      exponent++;
      if (exponent === 256) return undefined;
    }
  }
  return normalise(exponent, mantissa, [0, 0], negative);
}

export function subtractBytes(a: FiveBytes, b: FiveBytes): Result {
  if (b[0] === 0) return a;
  return addBytes(a, [b[0], b[1] ^ 0x80, b[2], b[3], b[4]]);
}

export function multiplyBytes(a: FiveBytes, b: FiveBytes): Result {
  if (a[0] === 0 || b[0] === 0) return ZERO;
  const factor = mantissaOf(a).bits;
  const multiplier = mantissaOf(b).bits;
  const product = new Bits(new Array(64).fill(0));
  for (let at = 31; at >= 0; at--) {
    const high = new Bits(product.bits.slice(0, 32));
    const carry = multiplier[at] === 1 ? high.add(factor) : 0;
    product.bits.splice(0, 32, ...high.bits);
    product.right(carry);
  }
  const negative = isNegative(a) !== isNegative(b);
  return reach(a[0] + b[0] - 128, product, negative);
}

export function divideBytes(a: FiveBytes, b: FiveBytes): Result {
  if (b[0] === 0) return undefined;
  if (a[0] === 0) return ZERO;
  const divisor = [0, ...mantissaOf(b).bits];
  const remainder = new Bits([0, ...mantissaOf(a).bits]);
  const quotient: number[] = [];
  for (let count = 0; count < 33; count++) {
    if (count > 0) remainder.left(0);
    const tried = remainder.copy();
    if (tried.subtract(divisor) === 0) {
      remainder.bits.splice(0, 33, ...tried.bits);
      quotient.push(1);
    } else quotient.push(0);
  }
  // The 34th is tried without the remainder having been doubled: it is always 0.
  quotient.push(0);
  return reach(a[0] - b[0] + 129, new Bits(quotient), isNegative(a) !== isNegative(b));
}

/** What multiplication and division end with: is the exponent one that there is? */
function reach(exponent: number, bits: Bits, negative: boolean): Result {
  if (exponent > 256) return undefined;
  if (exponent === 256 && bits.top === 1) return undefined;
  const mantissa = new Bits(bits.bits.slice(0, 32));
  if (exponent < 0) return ZERO;
  if (exponent === 0) return nearZero(mantissa, negative);
  return normalise(exponent, mantissa, bits.bits.slice(32), negative);
}

function nearZero(mantissa: Bits, negative: boolean): FiveBytes {
  return mantissa.top === 1 ? [1, negative ? 0x80 : 0, 0, 0, 0] : ZERO;
}

function normalise(exponent: number, mantissa: Bits, below: number[], negative: boolean): Result {
  const spare = [...below];
  for (let count = 0; mantissa.top === 0; count++) {
    if (count === 32) return ZERO;
    mantissa.left(spare.shift() ?? 0);
    exponent--;
    if (exponent === 0) return nearZero(mantissa, negative);
  }
  if (spare[0] === 1 && mantissa.increment() === 1) {
    mantissa.bits[0] = 1;
    exponent++;
  }
  if (exponent >= 256) return undefined;
  mantissa.bits[0] = negative ? 1 : 0;
  return [exponent, ...mantissa.bytes];
}
