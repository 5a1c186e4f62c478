/** Bytes that each way of showing a picture needs at its peak, against the bits that are in it. */
import { readFileSync } from 'node:fs';
import { decodePicture } from '../../src/draw/decode.js';
import { isDrawn, tryWays } from '../../src/draw/drawing.js';
import { blocksOfText } from '../../src/draw/letters.js';
import { screenOfPicture } from '../../src/draw/picture.js';
import type { Pixels } from '../../src/draw/pixels.js';
import { blocksOfScreen, type Screen, screenOfBlocks } from '../../src/draw/screen.js';
import { WAYS } from '../../src/draw/ways.js';

const wasm = (path: string): Uint8Array => readFileSync(`node_modules/${path}`);
const decoders = {
  svg: wasm('@resvg/resvg-wasm/index_bg.wasm'),
  webp: wasm('@jsquash/webp/codec/dec/webp_dec.wasm'),
};
const lantern = await decodePicture(readFileSync('samples/pictures/lantern.svg'), 'svg', decoders);
/** A lamp's light on a wall. */
const glow: Pixels = {
  width: 128,
  height: 88,
  light: Float32Array.from({ length: 128 * 88 }, (_, at) => {
    const [x, y] = [(at % 128) - 64, Math.floor(at / 128) - 44];
    return Math.max(0, 1 - Math.hypot(x, y) / 70);
  }),
};

const PICTURES: readonly (readonly [name: string, screen: Screen])[] = [
  ['lantern, 40 by 30', screenOfPicture(lantern, { size: { width: 40, height: 30 } }).screen],
  ['lantern, 59 by 44', screenOfPicture(lantern).screen],
  ['LANTERN LOFT, 4 by 4', screenOfBlocks(blocksOfText('LANTERN LOFT', 4), 22)],
  ['LANTERN LOFT, 8 by 8', screenOfBlocks(blocksOfText('LANTERN LOFT', 8), 22)],
  ['glow, dithered', screenOfPicture(glow, { dither: 'floyd-steinberg' }).screen],
];

/**
 * Bits of the smallest rectangle round what is dark, and the bits that its blocks say at least once
 * each is guessed from the four before it (three above, one on the left), by the picture's own
 * counts.
 */
function bitsIn(screen: Screen): { all: number; said: number } {
  const { width, height, dark } = blocksOfScreen(screen);
  const at = (x: number, y: number): number =>
    x < 0 || y < 0 || x >= width ? 0 : dark[y * width + x];
  const used = [...dark.keys()].filter((index) => dark[index] === 1);
  const columns = used.map((index) => index % width);
  const rows = used.map((index) => Math.floor(index / width));
  const [left, right] = [Math.min(...columns), Math.max(...columns)];
  const [top, bottom] = [Math.min(...rows), Math.max(...rows)];
  const counts = Array.from({ length: 16 }, () => [0, 0]);
  for (let y = top; y <= bottom && y < height; y++) {
    for (let x = left; x <= right; x++) {
      const before = at(x - 1, y) + 2 * at(x - 1, y - 1) + 4 * at(x, y - 1) + 8 * at(x + 1, y - 1);
      counts[before][at(x, y)]++;
    }
  }
  const said = counts.flatMap(([light, black]) =>
    [light, black].map((count) => (count === 0 ? 0 : -count * Math.log2(count / (light + black)))),
  );
  return {
    all: (right - left + 1) * (bottom - top + 1),
    said: said.reduce((sum, one) => sum + one, 0),
  };
}

/** What the machine needs for a program that shows nothing: its variables, an empty display, its stack. */
const NOTHING = tryWays(
  ['strings'],
  screenOfBlocks({ width: 0, height: 0, dark: new Uint8Array() }, 22),
);
const empty = NOTHING.filter(isDrawn)[0].bytes;

console.log(`draw: bytes at the peak, of which ${empty} are there with nothing shown`);
console.log(
  `${'picture'.padEnd(22)}${'bits'.padStart(6)}${'said'.padStart(6)}${WAYS.map((way) => way.padStart(9)).join('')}`,
);
for (const [name, screen] of PICTURES) {
  const { all, said } = bitsIn(screen);
  const tried = tryWays(WAYS, screen, 3 * 1024);
  const bytes = WAYS.map((way) => {
    const one = tried.find((other) => other.way === way)!;
    return String(isDrawn(one) ? one.bytes : '–').padStart(9);
  });
  console.log(
    `${name.padEnd(22)}${String(all).padStart(6)}${said.toFixed(0).padStart(6)}${bytes.join('')}`,
  );
}
