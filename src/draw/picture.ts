/** A picture as a screen: cut, turned to blocks or greys, and put in its place. */
import { isDrawn, tryWay } from './drawing.js';
import { type Crop, crop, invert, type Pixels } from './pixels.js';
import { keepEdges, scale, sizeWithin } from './scale.js';
import {
  BLOCK_COLUMNS,
  type Corner,
  REACHED_ROWS,
  type Screen,
  screenOfBlocks,
  screenOfCells,
} from './screen.js';
import { blocksOfPixels, cellsOfPixels, type Dither } from './tones.js';
import type { Way } from './ways.js';

/** Blocks across and down. */
export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface PictureOptions {
  /** The box that it goes into with its shape kept; default: all that is reached. */
  readonly size?: Size;
  /** Cell of its left upper corner; default: in the middle. */
  readonly place?: Corner;
  readonly crop?: Crop;
  readonly invert?: boolean;
  readonly dither?: Dither;
  /** Lightness, 0 to 1 as the eye sees it, below which a block is dark. */
  readonly threshold?: number;
  /** Use the grey characters? */
  readonly greys?: boolean;
  /** Rows of the display that may be used: 22, or 24 for a saved display. */
  readonly rows?: number;
}

export interface ScreenOfPicture {
  readonly screen: Screen;
  readonly size: Size;
}

/** The screen that shows a picture. Throws RangeError for a crop or a place outside. */
export function screenOfPicture(whole: Pixels, options: PictureOptions = {}): ScreenOfPicture {
  const { rows = REACHED_ROWS, place, dither = 'none', threshold } = options;
  const part = options.crop === undefined ? whole : crop(whole, options.crop);
  const pixels = options.invert ? invert(part) : part;
  const fitted = sizeWithin(pixels, options.size ?? { width: BLOCK_COLUMNS, height: 2 * rows });
  if (options.greys) {
    // Greys belong to cells of two by two blocks.
    const even = (blocks: number): number => Math.max(2, blocks - (blocks % 2));
    const size = { width: even(fitted.width), height: even(fitted.height) };
    const cells = cellsOfPixels(scale(pixels, size.width, size.height), dither);
    return { size, screen: screenOfCells(cells, rows, place) };
  }
  const small = scale(pixels, fitted.width, fitted.height);
  const sharp = dither === 'none' ? keepEdges(small) : small;
  const blocks = blocksOfPixels(sharp, dither, threshold);
  const at = place && { row: 2 * place.row, column: 2 * place.column };
  return { size: fitted, screen: screenOfBlocks(blocks, rows, at) };
}

/** The largest size in which a picture can be shown in a way and fits the RAM, if there is one. */
export function largestThatFits(
  pixels: Pixels,
  options: PictureOptions,
  way: Way,
  ram: number,
): Size | undefined {
  const { size } = screenOfPicture(pixels, options);
  let [low, high] = [0, size.width];
  let found: Size | undefined;
  while (high - low > 1) {
    const width = (low + high) >> 1;
    const height = Math.max(1, Math.round((width * size.height) / size.width));
    const made = screenOfPicture(pixels, { ...options, size: { width, height } });
    const tried = tryWay(way, made.screen, ram);
    if (isDrawn(tried) && tried.bytes <= ram) [low, found] = [width, made.size];
    else high = width;
  }
  return found;
}
