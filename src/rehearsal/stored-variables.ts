/** Walking over variables as they are stored. Source: the manual, chapter 27. */
import { FIRST_LETTER, INVERSE, unicodeOfCode } from '../machine/characters.js';
import { NUMBER_SIZE } from '../machine/numbers.js';
import { FOR_VARIABLE_SIZE, KIND_BITS } from '../machine/variables.js';
import type { VariableSize } from './areas.js';

/** Where the variable at `at` ends, or undefined if there is none that ends before `limit`. */
export function endOfVariable(bytes: Uint8Array, at: number, limit: number): number | undefined {
  const end = at + sizeOf(bytes, at, limit);
  return end > at && end < limit ? end : undefined;
}

/** 0 where it is no variable. */
function sizeOf(bytes: Uint8Array, at: number, limit: number): number {
  switch (bytes[at] >> 5) {
    case KIND_BITS.number:
      return 1 + NUMBER_SIZE;
    case KIND_BITS.longNumber: {
      let last = at + 1;
      while (last < limit && (bytes[last] & INVERSE) === 0) last++;
      return last + 1 + NUMBER_SIZE - at;
    }
    case KIND_BITS.for:
      return FOR_VARIABLE_SIZE;
    case KIND_BITS.string:
    case KIND_BITS.numbers:
    case KIND_BITS.characters:
      return 3 + bytes[at + 1] + 256 * bytes[at + 2];
    default:
      return 0;
  }
}

const KINDS = new Map<number, VariableSize['kind']>([
  [KIND_BITS.number, 'number'],
  [KIND_BITS.longNumber, 'number'],
  [KIND_BITS.for, 'for'],
  [KIND_BITS.string, 'string'],
  [KIND_BITS.numbers, 'numbers'],
  [KIND_BITS.characters, 'characters'],
]);

/** Name and kind of the variable at `at`; arrays have `()` after their names. */
export function nameOfVariable(bytes: Uint8Array, at: number): Pick<VariableSize, 'name' | 'kind'> {
  const bits = bytes[at] >> 5;
  const kind = KINDS.get(bits) ?? 'number';
  let name = letterOf((bytes[at] & 0x1f) | (FIRST_LETTER & 0x20));
  if (bits === KIND_BITS.longNumber) {
    for (let next = at + 1; ; next++) {
      name += letterOf(bytes[next] & ~INVERSE);
      if (bytes[next] & INVERSE) break;
    }
  }
  if (kind === 'string' || kind === 'characters') name += '$';
  if (kind === 'numbers' || kind === 'characters') name += '()';
  return { name, kind };
}

const letterOf = (code: number): string => unicodeOfCode(code) ?? '?';
