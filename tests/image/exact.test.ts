import fc from 'fast-check';
import { expect, it } from 'vitest';
import { areasOf, NotAnImage } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { listingOfImage } from '../../src/image/read.js';
import { readListing } from '../../src/listing/read.js';
import { LARGEST_RAM } from '../../src/machine/ram-size.js';
import { drawListing } from '../support/draw-listing.js';
import { drawChanged, realImages } from './draw-image.js';

const FUZZ = Boolean(process.env.FUZZ);
const DRAWN = Number(process.env.IMAGES ?? (FUZZ ? 1_000_000 : 800));
const SEED = Number(process.env.SEED ?? 4);
/** What the texts of the drawn images must hold now and then, or the draw is not worth its time. */
const FORMS = {
  'ram sizes': /^\.ram/m,
  'start lines': /^\.start/m,
  'lines as written': /^\.lines/m,
  'nearest numbers': /^\.numbers nearest/m,
  'system variables': /^\.system/m,
  pointers: /^\.system \w+ = [A-Z]/m,
  displays: /^\.display/m,
  'raw displays': /^\.raw display/m,
  numbers: /^\.var [A-Z0-9]+ = /m,
  loops: /^\.var [A-Z] for/m,
  strings: /^\.var [A-Z]\$ = /m,
  'arrays of numbers': /^\.var [A-Z]\([\d,]+\) = /m,
  'arrays of characters': /^\.var [A-Z]\$\(/m,
  'raw variables': /^\.raw variables/m,
  'bytes after the end': /^\.raw after/m,
  'bytes that are no line': /^\.raw [0-9A-F]/m,
  'lines not checked': /^\d+ \[[0-9A-F ]*\]/m,
  'values that differ': /\[=[0-9A-F]/,
  'numbers without a value': /\[=\]/,
  'stored spaces': /\[sp\]/,
  'machine code': /REM \[\n/,
};

let kept: Uint8Array[] | undefined;
/** Made when a test first asks: who runs one of the others does not wait for them. */
function images(): Uint8Array[] {
  kept ??= realImages(FUZZ ? 3000 : 120, 11);
  return kept;
}

/** The image that a text builds, as the command line builds it. */
function built(text: string): Uint8Array | undefined {
  const { listing, diagnostics } = readListing(text);
  const wrong = diagnostics.filter(({ severity }) => severity === 'error');
  expect(wrong).toEqual([]);
  return buildImage(listing).image;
}

it('every drawn image comes back byte for byte, or is refused with a reason', () => {
  const counts = { exact: 0, refused: 0, bytes: 0, slowest: 0 };
  const seen = new Map(Object.keys(FORMS).map((form) => [form, 0]));
  fc.assert(
    fc.property(drawChanged(images()), (image) => {
      const begun = performance.now();
      counts.bytes += image.length;
      try {
        const { text } = listingOfImage(image);
        expect(Buffer.compare(built(text) ?? new Uint8Array(), image)).toBe(0);
        counts.exact++;
        for (const [form, pattern] of Object.entries(FORMS)) {
          if (pattern.test(text)) seen.set(form, seen.get(form)! + 1);
        }
      } catch (error) {
        if (!(error instanceof NotAnImage)) throw error;
        expect(error.message.length * error.why.length * error.help.length).toBeGreaterThan(0);
        expect(() => areasOf(image)).toThrow(NotAnImage);
        counts.refused++;
      }
      counts.slowest = Math.max(counts.slowest, performance.now() - begun);
    }),
    { numRuns: DRAWN, seed: SEED },
  );
  console.log(
    `${DRAWN} drawn images, ${counts.bytes} bytes: ${counts.exact} exact, ${counts.refused} refused with a reason; the slowest took ${counts.slowest.toFixed(0)} ms. With ${[...seen].map(([form, count]) => `${form} ${count}`).join(', ')}`,
  );
  expect([...seen].filter(([, count]) => count === 0)).toEqual([]);
  expect(counts.exact + counts.refused).toBe(DRAWN);
  expect(counts.exact).toBeGreaterThan(DRAWN / 2);
  expect(counts.refused).toBeGreaterThan(DRAWN / 100);
});

it('--salvage reads every byte string, and what it read builds again', () => {
  fc.assert(
    fc.property(drawChanged(images()), (image) => {
      const read = listingOfImage(image, { salvage: true });
      expect(Buffer.compare(built(read.text) ?? new Uint8Array(), read.image)).toBe(0);
      // Only pointers are changed, and only what is missing is added.
      const kept = read.image.subarray(0, image.length);
      const changed = [...kept].flatMap((byte, at) => (byte === image[at] ? [] : [at]));
      expect(changed.filter((at) => !POINTER_OFFSETS.has(at))).toEqual([]);
    }),
    { numRuns: Math.ceil(DRAWN / 5), seed: SEED },
  );
});

/** Of D_FILE, VARS and E_LINE. */
const POINTER_OFFSETS = new Set([3, 4, 7, 8, 11, 12]);

it('the tidy form is stable: its image reads back as the same text', () => {
  fc.assert(
    fc.property(drawListing(), (drawn) => {
      const image = buildImage(readListing(drawn).listing, { ram: LARGEST_RAM }).image!;
      const tidy = listingOfImage(image).text;
      expect(Buffer.compare(built(tidy)!, image)).toBe(0);
      expect(listingOfImage(built(tidy)!).text).toBe(tidy);
    }),
    { numRuns: FUZZ ? 50_000 : 150, seed: SEED },
  );
});

it('a name on tape is written and read back, whatever codes it has', () => {
  const image = images()[0];
  fc.assert(
    fc.property(fc.array(fc.nat(255), { maxLength: 12 }), (list) => {
      const name = Uint8Array.from(list);
      const { listing, diagnostics, remarks, text } = listingOfImage(image, { name });
      expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
      const item = listing.items.find(({ kind }) => kind === 'name');
      const fits = name.length > 0 && name.every((code) => code < 128);
      expect(item?.kind === 'name' ? [...item.codes] : undefined).toEqual(fits ? list : undefined);
      expect(remarks.some((remark) => /name on tape/.test(remark))).toBe(name.length > 0 && !fits);
      expect(Buffer.compare(built(text)!, image)).toBe(0);
    }),
    { numRuns: FUZZ ? 20_000 : 200, seed: SEED },
  );
});
