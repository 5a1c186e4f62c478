import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { detokenise, NotAnImage, tokenise } from '../../src/index.js';
import { drawListing } from '../support/draw-listing.js';

describe('tokenise and detokenise', () => {
  it('are inverse for drawn listings', () => {
    let built = 0;
    fc.assert(
      fc.property(drawListing(), (text) => {
        const { image } = tokenise(text, { ram: 49152 });
        if (image === undefined) return;
        built++;
        const back = detokenise(image);
        expect(tokenise(back.text).image).toEqual(image);
        expect(detokenise(tokenise(back.text).image!).text).toBe(back.text);
      }),
      { numRuns: process.env.FUZZ ? 2000 : 60, seed: 13 },
    );
    expect(built).toBeGreaterThan(50);
  });

  it('store a keyword as one code, and hide five bytes behind a number', () => {
    const { image, listing } = tokenise('10 PRINT 5\n');
    // The manual, chapter 27: number, length, text, NEWLINE; 5 is 83 20 00 00 00.
    expect([...image!.subarray(116, 116 + 13)]).toEqual([
      ...[0, 10, 9, 0, 0xf5, 33, 126, 0x83, 0x20, 0, 0, 0, 118],
    ]);
    expect(listing.lines[0].statement).toMatchObject({ kind: 'PRINT' });
    expect(detokenise(image!).text).toBe('10 PRINT 5\n');
  });

  it('give diagnostics and no image for a text with errors, or one that does not fit', () => {
    for (const text of ['10 PRINT (\n', `10 REM ${'A'.repeat(1100)}\n`]) {
      const { image, diagnostics } = tokenise(text);
      expect(image).toBeUndefined();
      // What is wrong with the text says why there is no image.
      expect(diagnostics.map(({ severity }) => severity)).toEqual(['error']);
    }
  });

  it('give an image of what could be read where it is asked for anyway', () => {
    const bad = tokenise('10 PRINT (\n20 CLS\n', { anyway: true });
    expect(detokenise(bad.image!).text).toContain('20 CLS\n');
    expect(bad.diagnostics.map(({ severity }) => severity)).toEqual(['error']);
    const large = tokenise(`10 REM ${'A'.repeat(1100)}\n`, { anyway: true });
    expect(large.image?.length).toBeGreaterThan(1100);
  });

  it('refuse bytes that are no image', () => {
    expect(() => detokenise(new Uint8Array(300))).toThrow(NotAnImage);
  });
});
