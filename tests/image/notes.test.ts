import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areasOf, NotAnImage } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { withNotes } from '../../src/image/notes.js';
import { listingOfImage } from '../../src/image/read.js';
import { readListing } from '../../src/listing/read.js';
import { IMAGE_START } from '../../src/machine/memory-map.js';
import { drawChanged, realImages } from './draw-image.js';

const read = (text: string) => listingOfImage(buildImage(readListing(text).listing).image!);
const ROWS = '.display\nOAK\n.end';

describe('a note stands', () => {
  const tidy = `.start 20\n10 CLS\n.raw 40 41 42 43 44 45 46 47 48 49 4A 4B 4C 4D 4E 4F\n.raw 50\n20 STOP\n${ROWS}\n.var A = 1\n.var B = 2\n.raw after 01\n`;
  const listing = read(tidy);
  const { D_FILE, VARS, E_LINE } = areasOf(listing.image);
  const above = (offset: number): string => {
    const rows = withNotes(listing, [{ offset, text: 'here' }]).split('\n');
    const at = rows.indexOf("' here");
    expect(withNotes(listing, [{ offset, text: 'here' }])).toBe(
      [...rows.slice(0, at), "' here", ...rows.slice(at + 1)].join('\n'),
    );
    // Only plain bytes that are no line have a comment of their own.
    return rows[at + 1];
  };
  it.each([
    ['at the top for a system variable', 5, '.start 20'],
    ['above the line that holds the byte', 116, '10 CLS'],
    ['to its last byte', 116 + 5, '10 CLS'],
    ['above the first of the bytes that are no line', 116 + 6 + 16, /^\.raw 40 41/],
    ['above the next line', 116 + 6 + 17, '20 STOP'],
    ['above the display', D_FILE - IMAGE_START + 2, '.display'],
    ['above the first variable', VARS - IMAGE_START + 8, '.var A = 1'],
    ['above the bytes after the end', E_LINE - IMAGE_START, '.raw after 01'],
  ])('%s', (_, offset, row) => {
    if (typeof row === 'string') expect(above(offset)).toBe(row);
    else expect(above(offset)).toMatch(row);
  });
});

it('notes stand in the order of their bytes, whatever order they are given in', () => {
  const notes = [116, 5, 118, 117].map((offset) => ({ offset, text: String(offset) }));
  expect(withNotes(read('10 CLS\n'), notes)).toBe("' 5\n' 116\n' 117\n' 118\n10 CLS\n");
});

it('notes of displays and variables that are bytes stand above these, from their first byte on', () => {
  const listing = read('10 CLS\n.raw display 76 05\n.raw variables 20 21\n');
  const { D_FILE, VARS } = areasOf(listing.image);
  const notes = [D_FILE, VARS].map((at) => ({ offset: at - IMAGE_START, text: 'here' }));
  expect(withNotes(listing, notes)).toBe(
    "10 CLS\n' here\n.raw display 76 05\n' here\n.raw variables 20 21\n",
  );
});

it('many notes at one place are shown in part', () => {
  const notes = Array.from({ length: 50 }, (_, offset) => ({ offset, text: String(offset) }));
  const rows = withNotes(read('10 CLS\n'), notes).split('\n');
  expect(rows.slice(18)).toEqual(["' 18", "' 19", "' and 30 more", '10 CLS', '']);
  const all = withNotes(read('10 CLS\n'), notes.slice(0, 20)).split('\n');
  expect(all.slice(19)).toEqual(["' 19", '10 CLS', '']);
});

it('notes of any bytes leave the image as it is', () => {
  const images = realImages(30, 14);
  fc.assert(
    fc.property(drawChanged(images), fc.array(fc.nat(2000), { maxLength: 8 }), (image, at) => {
      try {
        const listing = listingOfImage(image);
        const notes = at.map((offset) => ({ offset: offset % image.length, text: 'doubtful' }));
        const text = withNotes(listing, notes);
        expect(text.match(/^' doubtful$/gm)?.length ?? 0).toBe(notes.length);
        expect(text.replaceAll("' doubtful\n", '')).toBe(listing.text);
        expect(buildImage(readListing(text).listing).image).toEqual(image);
      } catch (error) {
        if (!(error instanceof NotAnImage)) throw error;
      }
    }),
    { numRuns: process.env.FUZZ ? 20_000 : 150, seed: 10 },
  );
});
