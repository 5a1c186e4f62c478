/** What the bytes of an image must satisfy, and how much speaks for a reading. */
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../../src/image/build.js';
import { readListing } from '../../../src/listing/read.js';
import { HEADER_SIZE } from '../../../src/machine/image-layout.js';
import {
  checkStructure,
  isPrinterAstray,
  oddLines,
  PRINTER_END,
  worthOf,
} from '../../../src/tape/mending/image-structure.js';

const image = buildImage(
  readListing('10 LET A=5\n20 PRINT A\n30 GOTO 20\n40 PRINT "LAMP"\n').listing,
).image!;

/** The same image, read so that the first line's length takes in all the others. */
function swallowed(): Uint8Array {
  const one = image.slice();
  const { walk } = checkStructure(image);
  const length = walk.end - HEADER_SIZE - 4;
  one[HEADER_SIZE + 2] = length & 255;
  one[HEADER_SIZE + 3] = length >> 8;
  return one;
}

describe('the worth of a reading', () => {
  it('of a whole image is its bytes and that it is whole', () => {
    const structure = checkStructure(image);
    expect(structure).toMatchObject({ whole: true, good: image.length });
    expect(structure.walk).toMatchObject({ lines: 4, lastNumber: 40, oddities: 0 });
    expect(worthOf(structure)).toBe(image.length + 1000);
  });

  it('is less where one line swallows all the others, though everything follows', () => {
    const structure = checkStructure(swallowed());
    expect(structure.whole).toBe(true);
    expect(structure.walk.lines).toBe(1);
    // The NEWLINE of each line within it is no code of program text.
    expect(structure.walk.oddities).toBeGreaterThanOrEqual(3);
    const { oddities } = structure.walk;
    expect(worthOf(structure)).toBeLessThanOrEqual(worthOf(checkStructure(image)) - 20 * oddities);
  });

  it('is less for an odd code than the line that holds it has bytes', () => {
    const odd = image.slice();
    // The name in LET, as a code that no listing shows.
    odd[HEADER_SIZE + 5] = 100;
    const structure = checkStructure(odd);
    expect(structure.walk.oddities).toBe(1);
    const first = 4 + image[HEADER_SIZE + 2] + 256 * image[HEADER_SIZE + 3];
    expect(worthOf(structure)).toBeLessThan(worthOf(checkStructure(image)) - first);
  });
});

describe('the end of the printer’s buffer', () => {
  /** The image with so many zero bits more, or fewer, from a byte within its buffer on. */
  const moved = (bits: number) => {
    const text = [...image].map((byte) => byte.toString(2).padStart(8, '0')).join('');
    const at = 8 * (PRINTER_END - 10);
    const row =
      bits > 0
        ? text.slice(0, at) + '0'.repeat(bits) + text.slice(at)
        : text.slice(0, at) + text.slice(at - bits);
    return Uint8Array.from(image, (_, i) => Number.parseInt(row.slice(8 * i, 8 * i + 8) || '0', 2));
  };

  it('is out of place where bits were lost before it, or doubled', () => {
    expect(isPrinterAstray(image)).toBe(false);
    for (const bits of [-9, -3, -1, 1, 2, 8, 16])
      expect([bits, isPrinterAstray(moved(bits))]).toEqual([bits, true]);
  });

  it('is the program’s own where it keeps something there', () => {
    const used = image.slice();
    used[PRINTER_END] = 201;
    expect(isPrinterAstray(used)).toBe(false);
    used.fill(205, PRINTER_END - 32, PRINTER_END + 1);
    expect(isPrinterAstray(used)).toBe(false);
    used.fill(0, PRINTER_END - 32, PRINTER_END + 1);
    expect(isPrinterAstray(used)).toBe(false);
  });
});

describe('lines with codes that no listing shows', () => {
  it('are told with where they stand', () => {
    expect(oddLines(image)).toEqual([]);
    expect(oddLines(swallowed())).toEqual([
      { from: HEADER_SIZE, to: checkStructure(image).walk.end },
    ]);
  });
});
