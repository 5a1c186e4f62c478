/** What the bytes of an image must satisfy, and how much speaks for a reading. */
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../../src/image/build.js';
import { readListing } from '../../../src/listing/read.js';
import { HEADER_SIZE } from '../../../src/machine/image-layout.js';
import { checkStructure, worthOf } from '../../../src/tape/mending/image-structure.js';

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
