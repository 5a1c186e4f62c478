/** A picture as grains of light, and what is done to it before it becomes blocks. */

/**
 * Rows of light from the top left: 0 is ink and 1 is paper. The numbers are linear in light, so that
 * a mean of them is what the eye sees from afar (the sRGB standard, IEC 61966-2-1).
 */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
}

/** How much light looks so light, 0 to 1, by the sRGB standard, from memory. */
export const lightOf = (shown: number): number =>
  shown <= 0.04045 ? shown / 12.92 : ((shown + 0.055) / 1.055) ** 2.4;

/** How light so much light looks: the inverse. */
export const shade = (light: number): number =>
  light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055;

/** Light of a channel of 8 bits. */
const LIGHT = Float32Array.from({ length: 256 }, (_, byte) => lightOf(byte / 255));

/** What shares red, green and blue have in luminance (ITU-R BT.709, from memory). */
const RED = 0.2126;
const GREEN = 0.7152;
const BLUE = 0.0722;

/**
 * Light of pixels of four bytes, red, green, blue and opacity, upon white paper. It is put where the
 * bytes are: large pictures take their memory once.
 */
export function pixelsOfRgba(rgba: Uint8Array, width: number, height: number): Pixels {
  const own = rgba.byteOffset % 4 === 0 ? rgba : rgba.slice();
  const light = new Float32Array(own.buffer, own.byteOffset, width * height);
  for (let index = 0, at = 0; index < light.length; index++, at += 4) {
    const lit = RED * LIGHT[rgba[at]] + GREEN * LIGHT[rgba[at + 1]] + BLUE * LIGHT[rgba[at + 2]];
    const opacity = rgba[at + 3] / 255;
    light[index] = lit * opacity + 1 - opacity;
  }
  return { width, height, light };
}

/** Left, top, width and height in pixels. */
export type Crop = readonly [left: number, top: number, width: number, height: number];

/** A part of a picture. Throws RangeError for a part that is not in it. */
export function crop(pixels: Pixels, [left, top, width, height]: Crop): Pixels {
  if (left + width > pixels.width || top + height > pixels.height || width < 1 || height < 1) {
    throw new RangeError(
      `${width} by ${height} at ${left},${top} is not within ${pixels.width} by ${pixels.height} pixels`,
    );
  }
  const light = new Float32Array(width * height);
  for (let row = 0; row < height; row++) {
    const from = (top + row) * pixels.width + left;
    light.set(pixels.light.subarray(from, from + width), row * width);
  }
  return { width, height, light };
}

/** Dark for light and light for dark, as the eye sees it. */
export function invert({ width, height, light }: Pixels): Pixels {
  return { width, height, light: light.map((value) => lightOf(1 - shade(value))) };
}

/**
 * Turns a picture upright that a camera stored as it was held: `orientation` is 1 to 8 as in the
 * Exif standard (tag 0x0112, from memory).
 */
export function upright(pixels: Pixels, orientation = 1): Pixels {
  const { width, height, light } = pixels;
  if (orientation < 2 || orientation > 8) return pixels;
  const swaps = orientation >= 5;
  const [wide, high] = swaps ? [height, width] : [width, height];
  const flipX = [2, 3, 7, 8].includes(orientation);
  const flipY = [3, 4, 6, 7].includes(orientation);
  const turned = new Float32Array(light.length);
  for (let y = 0; y < high; y++) {
    for (let x = 0; x < wide; x++) {
      const [column, row] = swaps ? [y, x] : [x, y];
      const fromX = flipX ? width - 1 - column : column;
      const fromY = flipY ? height - 1 - row : row;
      turned[y * wide + x] = light[fromY * width + fromX];
    }
  }
  return { width: wide, height: high, light: turned };
}
