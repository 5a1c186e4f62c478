/** Sizes of RAM as people write them. */
import { describe, expect, it } from 'vitest';
import {
  ramText,
  readRamSize,
  smallestRam,
  USUAL_RAM_SIZES,
  USUAL_SIZES,
} from '../../src/machine/ram-size.js';

describe('a size of RAM', () => {
  it.each([
    ['1K', 1024],
    ['16k', 16384],
    [' 2K ', 2048],
    ['1024', 1024],
    ['1500', 1500],
    ['48K', 49152],
    ['49152', 49152],
  ])('%s is read', (text, bytes) => {
    expect(readRamSize(text)).toBe(bytes);
  });

  it.each(['1023', '0', '0K', '49153', '49K', '999999'])('%s is none that is fitted', (text) => {
    expect(readRamSize(text)).toBe(`${text} is not a size that the machine takes: 1K to 48K`);
  });

  it.each(['', 'K', '1KB', 'x16K', '1.5K', '-1K', '1 K', '1234567', '16M'])(
    '“%s” is none',
    (text) => {
      const named = text === '' ? 'nothing' : text;
      expect(readRamSize(text)).toBe(`${named} is not a size of RAM: write 1K, 2K, 16K …`);
    },
  );

  it('is written in K where it is whole ones', () => {
    expect([1024, 16384, 1500, 2047].map(ramText)).toEqual(['1K', '16K', '1500', '2047']);
  });

  it('is read back as it is written', () => {
    for (const size of [...USUAL_SIZES, 1025, 3327]) expect(readRamSize(ramText(size))).toBe(size);
  });

  it('of the usual ones is the smallest that will do', () => {
    expect(USUAL_RAM_SIZES).toEqual(['1K', '2K', '3K', '4K', '8K', '16K', '32K', '48K']);
    expect(smallestRam((size) => size >= 3328)).toBe(4096);
    expect(smallestRam((size) => size > 49152)).toBeUndefined();
  });
});
