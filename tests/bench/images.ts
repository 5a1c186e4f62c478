/** Reading images back: against the time of tokenising the listing that comes out, and by size. */
import { readFileSync } from 'node:fs';
import { buildImage } from '../../src/image/build.js';
import { listingOfImage } from '../../src/image/read.js';
import { readListing } from '../../src/listing/read.js';
import { best, middle, row } from './measure.js';

/** Bytes of an image that fills 16K: from 16393 up to the end of the RAM. */
const FULL = 16384 + 16384 - 16393;
/** Bytes of an image that are no program: system variables, a full display, the end of variables. */
const BESIDES = 116 + 793 + 1;
const RUNS = 60;

const hex = (count: number): string =>
  Array.from({ length: count }, (_, at) =>
    ((at * 73 + (at >> 3)) & 255).toString(16).toUpperCase().padStart(2, '0'),
  ).join(' ');

function imageOf(text: string): Uint8Array {
  const { listing, diagnostics } = readListing(text);
  const wrong = diagnostics.find(({ severity }) => severity === 'error');
  const { image } = buildImage(listing);
  if (wrong !== undefined || image === undefined) throw new Error(wrong?.message ?? 'no image');
  return image;
}

/** The lines of the samples, over and over, numbered anew, until the image has so many bytes. */
function programOf(bytes: number, ram: string): Uint8Array {
  const statements = ['towpath', 'ruler', 'grid', 'keyboard']
    .flatMap((name) => readFileSync(`samples/${name}.bas`, 'utf8').split('\n'))
    .filter((line) => /^\d/.test(line))
    .map((line) => line.replace(/^\d+ /, ''));
  let text = `.ram ${ram}\n`;
  let size = BESIDES;
  for (let at = 0; ; at++) {
    const line = `${at + 1} ${statements[at % statements.length]}\n`;
    size += readListing(line).listing.lines[0].codes.length + 5;
    if (size > bytes) return imageOf(text);
    text += line;
  }
}

const KINDS: [string, Uint8Array][] = [
  ['a program', programOf(FULL, '16K')],
  ['machine code', imageOf(`.ram 16K\n1 REM [${hex(15400)}]\n2 RAND USR 16514\n`)],
  [
    'an array of numbers',
    imageOf(
      `.ram 16K\n1 RUN\n.var A(3000) = ${Array.from({ length: 3000 }, (_, at) => (at * 37) % 1000).join(',')}\n`,
    ),
  ],
  [
    'an array of characters',
    imageOf(`.ram 16K\n1 RUN\n.var A$(15400) = "${'LAMP 5, '.repeat(1925)}"\n`),
  ],
  [
    'lines that the machine would not accept',
    imageOf(
      `.ram 16K\n${Array.from({ length: 1150 }, (_, at) => `${at + 1} [F5]PRINT "A"\n`).join('')}`,
    ),
  ],
  ['bytes that are nothing', imageOf(`.ram 16K\n1 RUN\n.raw variables ${hex(15400)}\n`)],
];

for (const [what, image] of KINDS) {
  const { text } = listingOfImage(image);
  // A text is new each time, as one from a file is: of one seen before, pieces are kept.
  const texts = Array.from({ length: RUNS }, () => Buffer.from(text).toString());
  const there = best(() => buildImage(readListing(texts.pop()!).listing), RUNS);
  const back = best(() => listingOfImage(image), RUNS);
  row(
    `detokenise / tokenise, ${image.length} bytes of ${what}`,
    back / there,
    '≤ 2',
    `${(back * 1e3).toFixed(2)} ms against ${(there * 1e3).toFixed(2)} ms`,
  );
}

const perByte = [2, 4, 8, 16, 32].map((size) => {
  const image = programOf(size * 1024, '48K');
  const program = image.length - BESIDES;
  const repeats = Math.round((256 * 1024) / program);
  const run = () => {
    for (let at = 0; at < repeats; at++) listingOfImage(image);
  };
  run();
  return middle(run, 9) / (repeats * program);
});
row(
  'detokenise, time a byte of program, slowest / fastest of 2K to 32K',
  Math.max(...perByte) / Math.min(...perByte),
  '≤ 1.5',
  perByte.map((time) => `${(time * 1e9).toFixed(0)} ns`).join(', '),
);
