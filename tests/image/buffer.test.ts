import { expect, test } from 'vitest';
import { listingOfImage } from '../../src/image/read.js';
import { tokenise } from '../../src/image/tokenise.js';

/** A Buffer of Node is a Uint8Array whose slices are views: nothing may be written through them. */
test('an image that is read stays as it was, in whatever array its bytes came', () => {
  const text = `.ram 16K\n10 REM ${'LAMP '.repeat(400)}X\n20 PRINT "${'OAK '.repeat(40)}"\n`;
  const { image } = tokenise(text);
  for (const salvage of [false, true]) {
    const bytes = Buffer.from(image!);
    expect(listingOfImage(bytes, { salvage }).text).toBe(text);
    expect(bytes.equals(image!)).toBe(true);
  }
});
