/** From light to dark or not, and to the machine's greys. */
import { INVERSE, quartersOfCode } from '../machine/characters.js';
import { lightOf, type Pixels, shade } from './pixels.js';
import type { Blocks, Cells } from './screen.js';

/**
 * How a tone between ink and paper is made of blocks, by the published method:
 * - `floyd-steinberg`: Floyd and Steinberg, An Adaptive Algorithm for Spatial Grey Scale (1976).
 * - `jarvis-judice-ninke`: Jarvis, Judice and Ninke, A Survey of Techniques for the Display of
 *   Continuous Tone Pictures on Bilevel Displays (1976).
 * - `bayer`: Bayer, An Optimum Method for Two-Level Rendition of Continuous-Tone Pictures (1973).
 *
 * Their numbers are from memory.
 */
export type Dither = 'none' | 'floyd-steinberg' | 'jarvis-judice-ninke' | 'bayer';

/** Where the error of a pixel goes: rows down, columns right, and its share. */
type Spread = readonly (readonly [down: number, right: number, share: number])[];

const SPREADS: Readonly<Record<string, Spread>> = {
  'floyd-steinberg': [
    [0, 1, 7 / 16],
    [1, -1, 3 / 16],
    [1, 0, 5 / 16],
    [1, 1, 1 / 16],
  ],
  'jarvis-judice-ninke': [
    [0, 1, 7 / 48],
    [0, 2, 5 / 48],
    ...[3, 5, 7, 5, 3].map((share, index) => [1, index - 2, share / 48] as const),
    ...[1, 3, 5, 3, 1].map((share, index) => [2, index - 2, share / 48] as const),
  ],
};

/** The order in which a square of four by four fills up. */
const BAYER = [
  [0, 8, 2, 10],
  [12, 4, 14, 6],
  [3, 11, 1, 9],
  [15, 7, 13, 5],
];

export const DITHERS: readonly Dither[] = [
  'none',
  'floyd-steinberg',
  'jarvis-judice-ninke',
  'bayer',
];

/**
 * Blocks that are dark where the picture is. Without a dither, `threshold` is the lightness, 0 to 1
 * as the eye sees it, below which a block is dark; unless given, the one that parts the picture
 * best. With a dither it is the lightness that comes out half dark.
 */
export function blocksOfPixels(pixels: Pixels, dither: Dither, threshold?: number): Blocks {
  const { width, height, light } = pixels;
  if (dither === 'none') {
    // Two flat halves are parted as the eye parts them.
    const seen = light.map(shade);
    const level = threshold ?? bestThreshold(seen);
    return { width, height, dark: Uint8Array.from(seen, (value) => (value < level ? 1 : 0)) };
  }
  // A mean of blocks is a mean of light. A curve brings the lightness asked for to the middle.
  const power = threshold === undefined ? 1 : Math.log(0.5) / Math.log(lightOf(threshold));
  const toned = light.map((value) => value ** power);
  if (dither === 'bayer') {
    const dark = Uint8Array.from(toned, (value, index) => {
      const step = BAYER[Math.floor(index / width) % 4][(index % width) % 4];
      return value < (step + 0.5) / 16 ? 1 : 0;
    });
    return { width, height, dark };
  }
  const dark = new Uint8Array(width * height);
  const spread = SPREADS[dither] ?? [];
  const left = Float32Array.from(toned);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const value = left[y * width + x];
      const isDark = value < 0.5;
      dark[y * width + x] = isDark ? 1 : 0;
      const error = value - (isDark ? 0 : 1);
      for (const [down, right, share] of spread) {
        const [row, column] = [y + down, x + right];
        if (row >= height || column < 0 || column >= width) continue;
        left[row * width + column] += error * share;
      }
    }
  }
  return { width, height, dark };
}

/** Steps of lightness that are told apart. */
const STEPS = 256;

/**
 * The lightness that parts a picture into two kinds of pixel, as unlike each other and as like among
 * themselves as can be (Otsu, A Threshold Selection Method from Gray-Level Histograms, 1979). Where
 * several part it alike it is their middle.
 */
export function bestThreshold(seen: ArrayLike<number>): number {
  const counts = new Array<number>(STEPS).fill(0);
  for (let index = 0; index < seen.length; index++) {
    counts[Math.max(0, Math.min(STEPS - 1, Math.round(seen[index] * (STEPS - 1))))]++;
  }
  const total = counts.reduce((sum, count, step) => sum + count * step, 0);
  let [below, sumBelow, best] = [0, 0, -1];
  let [first, last] = [STEPS / 2, STEPS / 2];
  for (let step = 0; step < STEPS - 1; step++) {
    below += counts[step];
    sumBelow += counts[step] * step;
    const above = seen.length - below;
    if (below === 0 || above === 0) continue;
    const gap = sumBelow / below - (total - sumBelow) / above;
    const between = below * above * gap * gap;
    if (between > best * (1 + 1e-12)) [best, first, last] = [between, step, step];
    else if (between >= best * (1 - 1e-12)) last = step;
  }
  return ((first + last) / 2 + 0.5) / (STEPS - 1);
}

/** Ink of the four quarters of a cell, 0 to 1, by its code: upper left, right, lower left, right. */
const INKS: readonly (readonly [code: number, inks: readonly number[]])[] = Array.from(
  { length: 11 },
  (_, code) => [
    [code, inksOf(code)] as const,
    [code + INVERSE, inksOf(code).map((ink) => 1 - ink)] as const,
  ],
).flat();

function inksOf(code: number): number[] {
  const quarters = quartersOfCode(code);
  if (quarters !== undefined) return [1, 2, 4, 8].map((bit) => (quarters & bit ? 1 : 0));
  const [upper, lower] = [code === 9 ? 0 : 0.5, code === 10 ? 0 : 0.5];
  return [upper, upper, lower, lower];
}

/** What is left of a cell's error goes to the cells beside and under it, when tones are spread. */
const CELL_SPREAD = SPREADS['floyd-steinberg'];

/**
 * Cells with the machine's greys: of the 22 graphics, the one whose quarters are nearest to four
 * pixels. With a dither, what a cell has too much or too little goes to its neighbours.
 *
 * @param pixels of an even width and height
 */
export function cellsOfPixels({ width, height, light }: Pixels, dither: Dither): Cells {
  const [columns, rows] = [width / 2, height / 2];
  const spread = dither === 'none' ? [] : CELL_SPREAD;
  // As in blocksOfPixels: a flat cell is the one that looks nearest.
  const seen = dither === 'none' ? light.map(shade) : light;
  const left = new Float32Array(columns * rows);
  return Array.from({ length: rows }, (_, row) =>
    Uint8Array.from({ length: columns }, (_, column) => {
      const at = 2 * row * width + 2 * column;
      const extra = left[row * columns + column];
      const wanted = [at, at + 1, at + width, at + width + 1].map(
        (index) => 1 - seen[index] + extra,
      );
      const [code, inks] = nearest(wanted);
      const error = (sumOf(wanted) - sumOf(inks)) / 4;
      for (const [down, right, share] of spread) {
        const [y, x] = [row + down, column + right];
        if (y < rows && x >= 0 && x < columns) left[y * columns + x] += error * share;
      }
      return code;
    }),
  );
}

const sumOf = (numbers: readonly number[]): number => numbers.reduce((sum, one) => sum + one, 0);

function nearest(wanted: readonly number[]): (typeof INKS)[number] {
  let [best, least] = [INKS[0], Number.POSITIVE_INFINITY];
  for (const candidate of INKS) {
    const off = sumOf(candidate[1].map((ink, quarter) => (ink - wanted[quarter]) ** 2));
    if (off < least - 1e-9) [best, least] = [candidate, off];
  }
  return best;
}
