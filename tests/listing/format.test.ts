import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { listingOfImage } from '../../src/image/read.js';
import { formatListing } from '../../src/listing/format.js';
import { readListing } from '../../src/listing/read.js';
import { drawChanged, realImages } from '../image/draw-image.js';
import { drawListing } from '../support/draw-listing.js';

const FILES: Record<string, Uint8Array> = { 'code.bin': Uint8Array.of(0x2a, 0x0c, 0x40, 0xc9) };
const include = (path: string): Uint8Array | string => FILES[path] ?? 'there is no such file';

function read(text: string) {
  const result = readListing(text, { include });
  expect(result.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  return result;
}

const format = (text: string): string => formatListing(read(text));
const imageOf = (text: string) => buildImage(read(text).listing).image;

describe('the tidy form', () => {
  it.each([
    ['capitals and spaces', '10 print   a$( to 5 )', '10 PRINT A$( TO 5)'],
    ['one word for GO TO', '10 go to 20', '10 GOTO 20'],
    ['graphics and signs as they look', '10 rem [ul+lr] [pound] oak', '10 REM ▚ £ OAK'],
    ['no value that the digits give', '10 RUN 3[=82 40 00 00 00]', '10 RUN 3'],
    ['lines in order', '20 STOP\n10 CLS', '10 CLS\n20 STOP'],
    ['lines as they are written', '.lines as-written\n20 STOP\n10 CLS', undefined],
    ['a line that is not checked', '10 [F5][43]A ; B', '10 [F5][43]A;B'],
    [
      'a file that is put in, with its prefix tidy',
      '10 rem  [file "code.bin"]x',
      '10 REM  [file "code.bin"]x',
    ],
    [
      'a file that is put in after IF',
      '10 if a then rem [FILE "code.bin"]',
      '10 IF A THEN REM [FILE "code.bin"]',
    ],
    ['directives for all first', '10 CLS\n.ram 2K\n.name "oak"', '.name "OAK"\n.ram 2K\n10 CLS'],
    [
      'display and variables last',
      '.raw after 01\n.var a=1\n.display\noak\n.end\n10 CLS',
      '10 CLS\n.display\nOAK\n.end\n.var A = 1\n.raw after 01',
    ],
    [
      'comments above what they stand above',
      "' second\n20 STOP\n' first\n10 CLS\n' size\n.ram 2K\n' the end",
      "' size\n.ram 2K\n' first\n10 CLS\n' second\n20 STOP\n' the end",
    ],
    [
      'comments about the whole at the top',
      "' Bench test\n' of the club\n\n20 STOP\n10 CLS\n.ram 2K",
      "' Bench test\n' of the club\n.ram 2K\n10 CLS\n\n20 STOP",
    ],
    [
      'comments at the top when the directive under them moves',
      '\' Bench test\n.tv 60\n.name "OAK"\n10 CLS',
      '\' Bench test\n.name "OAK"\n.tv 60\n10 CLS',
    ],
    [
      'bytes that are no line after the line that they follow',
      "20 STOP\n' odd\n.raw 40 41\n10 CLS",
      "10 CLS\n20 STOP\n' odd\n.raw 40 41",
    ],
    ['bytes before all lines before them', '.raw 40\n20 STOP\n10 CLS', '.raw 40\n10 CLS\n20 STOP'],
    ['one blank line of several', '\n\n10 CLS\n\n\n\n20 STOP\n\n\n', '10 CLS\n\n20 STOP'],
    ['nothing but comments', "' only this\n\n\n' and this", "' only this\n\n' and this"],
    ['nothing', '', ''],
  ])('has %s', (_, text, expected) => {
    const wanted = expected ?? text;
    expect(format(`${text}\n`)).toBe(wanted === '' ? '' : `${wanted}\n`);
  });

  it('keeps the line ends of the file', () => {
    expect(format('20 stop\r\n10 cls\r\n')).toBe('10 CLS\r\n20 STOP\r\n');
    const code = '10 REM [43\r\n44][file "code.bin"]\r\n';
    expect(format(code)).toBe(code);
  });
});

const runs = (count: number) => ({ numRuns: process.env.FUZZ ? count * 200 : count, seed: 6 });

/** A drawn listing with its rows in any order, small letters and blank lines. */
const shuffled = fc.tuple(drawListing(), fc.infiniteStream(fc.nat(9))).map(([text, numbers]) => {
  const rows = text.split('\n').slice(0, -1);
  const keyed = rows.map((row): [number, string] => [numbers.next().value as number, row]);
  return keyed
    .sort(([a], [b]) => a - b)
    .map(([key, row]) => `${row}${'\n'.repeat(1 + (key % 3))}`)
    .join('');
});

it('is the same program, and the tidy form of itself, for drawn listings', () => {
  fc.assert(
    fc.property(shuffled, (text) => {
      const tidy = format(text);
      expect(imageOf(tidy)).toEqual(imageOf(text));
      expect(format(tidy)).toBe(tidy);
    }),
    runs(200),
  );
});

it('is what images read as', () => {
  const images = realImages(60, 12);
  fc.assert(
    fc.property(drawChanged(images), (image) => {
      const { text } = listingOfImage(image, { salvage: true });
      expect(format(text)).toBe(text);
    }),
    runs(300),
  );
});
