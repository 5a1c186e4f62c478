/** The pieces of a program area: lines, and bytes that are no line. */
import { expect, it } from 'vitest';
import { areasOf, programPieces } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import { HEADER_SIZE } from '../../src/machine/image-layout.js';

/** The pieces of these bytes, counted from the first: `[number or none, start, end]`. */
function pieces(...bytes: number[]) {
  const image = Uint8Array.from([...new Array(HEADER_SIZE).fill(0), ...bytes]);
  const at = (offset: number) => offset - HEADER_SIZE;
  return programPieces(image, image.length).map(({ number, start, end }) => [
    number,
    at(start),
    at(end),
  ]);
}

const line = (number: number) => [number >> 8, number & 255, 2, 0, 230, 118];

it('are lines one after the other', () => {
  expect(pieces()).toEqual([]);
  expect(pieces(...line(10), ...line(20))).toEqual([
    [10, 0, 6],
    [20, 6, 12],
  ]);
});

it('bytes reach up to the place from which lines lead to the very end', () => {
  expect(pieces(1, 2, 3)).toEqual([[undefined, 0, 3]]);
  expect(pieces(7, 7, 118, ...line(10), ...line(20))).toEqual([
    [undefined, 0, 3],
    [10, 3, 9],
    [20, 9, 15],
  ]);
  // Without a NEWLINE before it, the first such place.
  expect(pieces(7, 7, 7, 7, ...line(10))).toEqual([
    [undefined, 0, 4],
    [10, 4, 10],
  ]);
  // A place behind a NEWLINE comes before an earlier one without: 10 begins behind no NEWLINE.
  expect(pieces(64, 0, 9, 9, ...line(10), ...line(20))).toEqual([
    [undefined, 0, 10],
    [20, 10, 16],
  ]);
});

it('of lines behind bytes only numbers that can be typed count', () => {
  const behind = (number: number) => pieces(7, 7, 118, ...line(number)).length;
  expect([0, 1, 9999, 10_000].map(behind)).toEqual([1, 2, 2, 1]);
  // The very last line may be the shortest that there is.
  expect(pieces(7, 7, 118, 0, 10, 1, 0, 118)).toEqual([
    [undefined, 0, 3],
    [10, 3, 8],
  ]);
});

it('an image may be empty but for its system variables', () => {
  const image = buildImage(readListing('').listing).image!;
  expect(areasOf(image).D_FILE).toBe(16509);
});
