import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { INVERSE } from '../../src/machine/characters.js';
import { NUMBER_SIZE } from '../../src/machine/numbers.js';
import {
  arraySize,
  decodeVariable,
  elementSize,
  encodeVariable,
  endOfVariable,
  FOR_VARIABLE_SIZE,
  firstByte,
  numberVariableSize,
  type SavedVariable,
  sharedName,
  storedName,
  stringVariableSize,
} from '../../src/machine/variables.js';

const five = fc.uint8Array({ minLength: NUMBER_SIZE, maxLength: NUMBER_SIZE });
const letter = fc.constantFrom(...'ABCIMXYZ');
const dimensions = fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 3 });

const filled = (sizes: readonly number[], each: number): Uint8Array =>
  Uint8Array.from({ length: sizes.reduce((all, size) => all * size, each) }, (_, at) => at);

/** Any variable, and the bytes that it takes by its name, its length or its sizes. */
const variable: fc.Arbitrary<readonly [SavedVariable, number]> = fc.oneof(
  fc
    .tuple(fc.stringMatching(/^[A-Z][A-Z0-9]{0,9}$/), five)
    .map(([name, value]) => [{ kind: 'number', name, value }, numberVariableSize(name)] as const),
  fc
    .tuple(letter, five, five, five, fc.nat(9999))
    .map(
      ([name, value, limit, step, line]) =>
        [{ kind: 'for', name, value, limit, step, line }, FOR_VARIABLE_SIZE] as const,
    ),
  fc
    .tuple(letter, fc.uint8Array({ maxLength: 300 }))
    .map(
      ([name, codes]) =>
        [{ kind: 'string', name: `${name}$`, codes }, stringVariableSize(codes.length)] as const,
    ),
  fc.tuple(letter, dimensions).map(([name, sizes]) => {
    const values = filled(sizes, NUMBER_SIZE);
    const size = arraySize(sizes, elementSize('number'));
    return [{ kind: 'numbers', name, dimensions: sizes, values }, size] as const;
  }),
  fc.tuple(letter, dimensions).map(([name, sizes]) => {
    const codes = filled(sizes, 1);
    const size = arraySize(sizes, elementSize('string'));
    return [{ kind: 'characters', name: `${name}$`, dimensions: sizes, codes }, size] as const;
  }),
);

describe('a stored variable', () => {
  it('takes as many bytes as its name, its length or its sizes say', () => {
    fc.assert(
      fc.property(variable, ([one, size]) => {
        const bytes = encodeVariable(one);
        expect(bytes.length).toBe(size);
        expect(endOfVariable(bytes, 0, bytes.length)).toBe(size);
        expect(endOfVariable(bytes, 0, bytes.length - 1)).toBeUndefined();
      }),
      { seed: 27 },
    );
  });

  it('is read back as it was, and not from part of its bytes', () => {
    fc.assert(
      fc.property(variable, fc.nat(5), ([one], cut) => {
        const bytes = encodeVariable(one);
        const after = Uint8Array.of(...bytes, 0x80);
        expect(decodeVariable(after, 0)).toEqual({ variable: one, end: bytes.length });
        const shorter = bytes.subarray(0, bytes.length - 1 - cut);
        expect(decodeVariable(shorter, 0)).toBeUndefined();
        expect(endOfVariable(shorter, 0, shorter.length)).toBeUndefined();
      }),
      { seed: 28 },
    );
  });

  it('is called by its name, an array with brackets', () => {
    fc.assert(
      fc.property(variable, ([one]) => {
        const { name, kind } = storedName(encodeVariable(one), 0);
        expect(kind).toBe(one.kind);
        expect(name).toBe(kind === 'characters' ? `${one.name}()` : sharedName(one));
      }),
      { seed: 29 },
    );
  });

  it('has a name of letters and digits', () => {
    const [value, sign] = [[0, 0, 0, 0, 0], 13];
    const named = (last: number) =>
      decodeVariable(Uint8Array.of(firstByte('longNumber', 'A'), last | INVERSE, ...value), 0);
    expect(named(38)?.variable.name).toBe('AA');
    expect(named(sign)).toBeUndefined();
    const nine = 0b101_00101;
    expect(decodeVariable(Uint8Array.of(nine, 38 | INVERSE, ...value), 0)).toBeUndefined();
    expect(decodeVariable(Uint8Array.of(0b011_00101, ...value), 0)).toBeUndefined();
  });

  it('is no array without dimensions, with one of size 0, or with more than there are bytes', () => {
    const first = firstByte('numbers', 'A');
    const element = [0, 0, 0, 0, 0];
    const read = (...rest: number[]) =>
      decodeVariable(Uint8Array.of(first, rest.length, 0, ...rest, 0x80), 0);
    expect(read(1, 1, 0, ...element)?.variable).toMatchObject({ dimensions: [1] });
    expect(read(0, ...element)).toBeUndefined();
    expect(read(1, 0, 0)).toBeUndefined();
    expect(read(2, 1, 0, 0, 0)).toBeUndefined();
    expect(read(2, 1, 0, ...element)).toBeUndefined();
    expect(read(9)).toBeUndefined();
    expect(read()).toBeUndefined();
    // What follows looks like a count, and the sizes after it like those of an array.
    const behind = Uint8Array.of(first, 0, 0, 1, 1, 0, ...element);
    expect(decodeVariable(behind, 0)).toBeUndefined();
  });

  it('is passed over whatever its letter is, as the ROM does', () => {
    const bytes = Uint8Array.of(0b011_00101, 0, 0, 0, 0, 0);
    expect(endOfVariable(bytes, 0, 6)).toBe(6);
    expect(endOfVariable(Uint8Array.of(0b000_00110, 0, 0), 0, 3)).toBeUndefined();
  });
});
