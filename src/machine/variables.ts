/**
 * How variables are stored: between VARS and the byte 128 that ends them.
 * Source: the manual, chapter 27, from memory. The first byte is three bits of kind and five of
 * letter (A is 6); all lengths and dimensions are two bytes, low byte first.
 */
import { joined } from './bytes.js';
import { FIRST_LETTER, INVERSE, unicodeOfCode } from './characters.js';
import { wordAt } from './image-layout.js';
import { NUMBER_SIZE } from './numbers.js';

/** Numbers are kept as their five bytes, so that nothing is lost. Names are in capitals. */
export type SavedVariable =
  | { readonly kind: 'number'; readonly name: string; readonly value: Uint8Array }
  | {
      readonly kind: 'for';
      readonly name: string;
      readonly value: Uint8Array;
      readonly limit: Uint8Array;
      readonly step: Uint8Array;
      /** The line that NEXT goes back to. */
      readonly line: number;
    }
  | {
      readonly kind: 'numbers';
      readonly name: string;
      readonly dimensions: readonly number[];
      /** Five bytes each, the last subscript running fastest. */
      readonly values: Uint8Array;
    }
  | { readonly kind: 'string'; readonly name: string; readonly codes: Uint8Array }
  | {
      readonly kind: 'characters';
      readonly name: string;
      readonly dimensions: readonly number[];
      readonly codes: Uint8Array;
    };

/** The top three bits of a variable's first byte. */
export const KIND_BITS = {
  number: 0b011,
  longNumber: 0b101,
  numbers: 0b100,
  for: 0b111,
  string: 0b010,
  characters: 0b110,
} as const;

/**
 * What two variables cannot both have: a plain string and an array of characters share their name,
 * as a number and a FOR variable do; a number and an array of numbers do not (manual, ch. 10 to 12,
 * from memory).
 */
export function sharedName({ kind, name }: SavedVariable): string {
  return kind === 'numbers' ? `${name}()` : name;
}

/** Five bits of letter: A is 6. */
const letterBits = (name: string): number => name.charCodeAt(0) - 65 + (FIRST_LETTER & 0x1f);

/** The first byte of a variable of this kind with this name. */
export function firstByte(kind: keyof typeof KIND_BITS, name: string): number {
  return (KIND_BITS[kind] << 5) | letterBits(name);
}

/** Bytes of a number's name and value: 6 for one letter, its length and five for a longer one. */
export function numberVariableSize(name: string): number {
  return name.length + NUMBER_SIZE;
}

export const FOR_VARIABLE_SIZE = 1 + 3 * NUMBER_SIZE + 2;

/** Bytes of a string of `length` characters: letter, length, text. */
export function stringVariableSize(length: number): number {
  return 3 + length;
}

/** Bytes of one element of an array of numbers, or of characters. */
export function elementSize(type: 'number' | 'string'): number {
  return type === 'number' ? NUMBER_SIZE : 1;
}

/**
 * DIM takes sizes up to about here; a larger one is report 3. Source: G. Wearmouth, "An Assembly
 * Listing of the Operating System" (2004): D-RUN 141C.
 */
export const LARGEST_DIMENSION = 16384;

/** Bytes of an array: letter, length, number of dimensions, each dimension, each element. */
export function arraySize(dimensions: readonly number[], elementSize: number): number {
  const elements = dimensions.reduce((product, size) => product * size, 1);
  return 4 + 2 * dimensions.length + elements * elementSize;
}

/** Bytes of the variable stored at `at`, by its kind and lengths alone; 0 where it is of no kind. */
function storedSize(bytes: Uint8Array, at: number, limit: number): number {
  switch (bytes[at] >> 5) {
    case KIND_BITS.number:
      return numberVariableSize('A');
    case KIND_BITS.longNumber: {
      let last = at + 1;
      while (last < limit && (bytes[last] & INVERSE) === 0) last++;
      return last + 1 - at + NUMBER_SIZE;
    }
    case KIND_BITS.for:
      return FOR_VARIABLE_SIZE;
    case KIND_BITS.string:
    case KIND_BITS.numbers:
    case KIND_BITS.characters:
      return stringVariableSize(wordAt(bytes, at + 1));
    default:
      return 0;
  }
}

/** Where the variable stored at `at` ends, as the ROM passes over it; undefined if not by `limit`. */
export function endOfVariable(bytes: Uint8Array, at: number, limit: number): number | undefined {
  const end = at + storedSize(bytes, at, limit);
  return end > at && end <= limit ? end : undefined;
}

const KINDS = new Map<number, SavedVariable['kind']>([
  [KIND_BITS.for, 'for'],
  [KIND_BITS.string, 'string'],
  [KIND_BITS.numbers, 'numbers'],
  [KIND_BITS.characters, 'characters'],
]);

/** Kind and name of the variable stored at `at`, whatever its letters are; arrays have `()` after it. */
export function storedName(
  bytes: Uint8Array,
  at: number,
): { readonly name: string; readonly kind: SavedVariable['kind'] } {
  const kind = KINDS.get(bytes[at] >> 5) ?? 'number';
  const dollar = kind === 'string' || kind === 'characters' ? '$' : '';
  const brackets = kind === 'numbers' || kind === 'characters' ? '()' : '';
  return { name: lettersOf(bytes, at) + dollar + brackets, kind };
}

/** Letters and digits of a variable's name. */
function lettersOf(bytes: Uint8Array, at: number): string {
  let name = letterOf((bytes[at] & 0x1f) | (FIRST_LETTER & 0x20));
  if (bytes[at] >> 5 !== KIND_BITS.longNumber) return name;
  for (let next = at + 1; ; next++) {
    name += letterOf(bytes[next] & ~INVERSE);
    if (bytes[next] & INVERSE) return name;
  }
}

const letterOf = (code: number): string => unicodeOfCode(code) ?? '?';

const low = (value: number): number => value & 0xff;
const high = (value: number): number => (value >> 8) & 0xff;

/** The bytes of a variable in the variables area. */
export function encodeVariable(variable: SavedVariable): Uint8Array {
  const { name } = variable;
  switch (variable.kind) {
    case 'number':
      if (name.length === 1) return Uint8Array.of(firstByte('number', name), ...variable.value);
      return Uint8Array.of(firstByte('longNumber', name), ...restOfName(name), ...variable.value);
    case 'for':
      return Uint8Array.of(
        firstByte('for', name),
        ...variable.value,
        ...variable.limit,
        ...variable.step,
        low(variable.line),
        high(variable.line),
      );
    case 'string': {
      const { length } = variable.codes;
      const head = Uint8Array.of(firstByte('string', name), low(length), high(length));
      return joined([head, variable.codes]);
    }
    case 'numbers':
      return encodeArray(firstByte('numbers', name), variable.dimensions, variable.values);
    case 'characters':
      return encodeArray(firstByte('characters', name), variable.dimensions, variable.codes);
  }
}

/** Codes of a long name after its first letter; the last has bit 7 set. */
function restOfName(name: string): number[] {
  const codes = [...name.slice(1)].map((character) =>
    character <= '9' ? character.charCodeAt(0) - 48 + 28 : character.charCodeAt(0) - 65 + 38,
  );
  codes[codes.length - 1] |= INVERSE;
  return codes;
}

function encodeArray(
  first: number,
  dimensions: readonly number[],
  elements: Uint8Array,
): Uint8Array {
  const rest = 1 + 2 * dimensions.length + elements.length;
  const sizes = dimensions.flatMap((size) => [low(size), high(size)]);
  const head = Uint8Array.of(first, low(rest), high(rest), dimensions.length, ...sizes);
  return joined([head, elements]);
}

/** A variable read from memory, with the offset of the byte after it. */
export interface DecodedVariable {
  readonly variable: SavedVariable;
  readonly end: number;
}

/**
 * Reads the variable at `at`; undefined where the bytes up to `limit` are not one that
 * `encodeVariable` would give back.
 */
export function decodeVariable(
  bytes: Uint8Array,
  at: number,
  limit = bytes.length,
): DecodedVariable | undefined {
  const end = endOfVariable(bytes, at, limit);
  if (end === undefined) return undefined;
  const name = lettersOf(bytes, at);
  if (!/^[A-Z][A-Z0-9]*$/.test(name)) return undefined;
  const { kind } = storedName(bytes, at);
  const numberAt = (offset: number): Uint8Array => bytes.slice(offset, offset + NUMBER_SIZE);
  switch (kind) {
    case 'number':
      return { variable: { kind, name, value: numberAt(end - NUMBER_SIZE) }, end };
    case 'for': {
      const [value, most, step] = [1, 6, 11].map((offset) => numberAt(at + offset));
      return {
        variable: { kind, name, value, limit: most, step, line: wordAt(bytes, at + 16) },
        end,
      };
    }
    case 'string':
      return { variable: { kind, name: `${name}$`, codes: bytes.slice(at + 3, end) }, end };
    default: {
      const variable = decodeArray(bytes, at, end, kind, name);
      return variable && { variable, end };
    }
  }
}

function decodeArray(
  bytes: Uint8Array,
  at: number,
  end: number,
  kind: 'numbers' | 'characters',
  letter: string,
): SavedVariable | undefined {
  const count = bytes[at + 3];
  const start = at + 4 + 2 * count;
  const dimensions = Array.from({ length: count }, (_, index) => wordAt(bytes, at + 4 + 2 * index));
  if (count === 0 || dimensions.includes(0)) return undefined;
  // Sizes that lie behind the end make more than there is, too.
  const ofNumbers = kind === 'numbers';
  if (at + arraySize(dimensions, elementSize(ofNumbers ? 'number' : 'string')) !== end) {
    return undefined;
  }
  const elements = bytes.slice(start, end);
  return ofNumbers
    ? { kind: 'numbers', name: letter, dimensions, values: elements }
    : { kind: 'characters', name: `${letter}$`, dimensions, codes: elements };
}
