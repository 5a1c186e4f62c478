/**
 * Line layout and memory map against the manual: S. Vickers, BASIC Programming (1981), chapters 27
 * and 28, from memory.
 */
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import { SYSTEM_VARIABLES } from '../../src/machine/system-variables.js';

function build(text: string, ram?: number): Uint8Array {
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics).toEqual([]);
  return buildImage(listing, { ram }).image!;
}

/** Bytes of memory from an address, as the manual counts. */
const at = (image: Uint8Array, address: number, size: number): number[] => [
  ...image.subarray(address - 16393, address - 16393 + size),
];
const pointer = (image: Uint8Array, address: number): number => {
  const [low, high] = at(image, address, 2);
  return low + 256 * high;
};

describe('program lines (chapter 27)', () => {
  it('are number, high byte first; length, low byte first; text; NEWLINE', () => {
    const image = build('300 PRINT "A"');
    // 300 = 1 × 256 + 44; PRINT is 245, a quote 11, A 38, NEWLINE 118.
    expect(at(image, 16509, 9)).toEqual([1, 44, 5, 0, 245, 11, 38, 11, 118]);
  });

  it('hold after each number a 126 and its five bytes', () => {
    const image = build('1 LET A=10');
    expect(at(image, 16509, 16)).toEqual([
      0, 1, 12, 0, 241, 38, 20, 29, 28, 126, 132, 32, 0, 0, 0, 118,
    ]);
  });

  it('start at 16509, sorted by number', () => {
    const text = '20 STOP\n10 CLS';
    const { listing } = readListing(text);
    expect(at(buildImage(listing).image!, 16509, 12)).toEqual([
      0, 10, 2, 0, 251, 118, 0, 20, 2, 0, 227, 118,
    ]);
  });
});

describe('memory map (chapters 27 and 28)', () => {
  it.each([
    [1024, 25],
    [2048, 25],
    [3327, 25],
    [3328, 793],
    [16384, 793],
  ])('with %i bytes of RAM a clear display has %i bytes', (ram, size) => {
    const image = build('10 CLS', ram);
    const display = pointer(image, 16396);
    const variables = pointer(image, 16400);
    expect(display).toBe(16509 + 6);
    expect(variables - display).toBe(size);
    const bytes = at(image, display, size);
    expect(bytes.filter((byte) => byte === 118)).toHaveLength(25);
    expect(bytes[0]).toBe(118);
  });

  it('ends the variables with 128, where E_LINE begins', () => {
    const image = build('10 CLS');
    const end = pointer(image, 16404);
    expect(pointer(image, 16400)).toBe(end - 1);
    expect(at(image, end - 1, 1)).toEqual([128]);
    expect(image).toHaveLength(end - 16393);
  });

  it('saves sane system variables (common practice)', () => {
    const image = build('30 CLS');
    const end = pointer(image, 16404);
    const display = pointer(image, 16396);
    expect(at(image, 16393, 1)).toEqual([0]);
    expect(pointer(image, 16398)).toBe(display + 1);
    for (const address of [16406, 16410, 16412]) expect(pointer(image, address)).toBe(end + 1);
    expect(pointer(image, 16415)).toBe(16477);
    expect(at(image, 16418, 1)).toEqual([2]);
    expect(pointer(image, 16419)).toBe(30);
    expect(pointer(image, 16421)).toBe(65535);
    expect(pointer(image, 16425)).toBe(display);
    expect(pointer(image, 16432)).toBe(3213);
    expect(at(image, 16440, 4)).toEqual([188, 33, 24, 64]);
    expect(at(image, 16476, 1)).toEqual([118]);
  });

  it.each([
    ['', 55],
    ['.tv 50\n', 55],
    ['.tv 60\n', 31],
  ])('has the margin of the television: %j gives %i', (directive, margin) => {
    expect(at(build(`${directive}10 CLS`), 16424, 1)).toEqual([margin]);
  });

  it('runs from .start once loaded: NXTLIN is that line’s address', () => {
    expect(pointer(build('.start 20\n10 CLS\n20 STOP'), 16425)).toBe(16509 + 6);
  });

  it('has system variables without a gap from 16384 to 16508', () => {
    let next = 16384;
    for (const { address, size } of SYSTEM_VARIABLES) {
      expect(address).toBe(next);
      next += size;
    }
    expect(next).toBe(16509);
  });
});
