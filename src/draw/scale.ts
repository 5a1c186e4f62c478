/** Making a picture as small as the screen, with its edges kept. */
import type { Pixels } from './pixels.js';

/** The largest size with the shape of a picture that goes into a box; at least 1 each way. */
export function sizeWithin(
  { width, height }: { readonly width: number; readonly height: number },
  most: { readonly width: number; readonly height: number },
): { width: number; height: number } {
  const factor = Math.min(most.width / width, most.height / height);
  return {
    width: Math.max(1, Math.min(most.width, Math.round(width * factor))),
    height: Math.max(1, Math.min(most.height, Math.round(height * factor))),
  };
}

/**
 * A picture of another size: each new pixel has the mean light of the area that it covers. One
 * whose blocks are drawn large comes out block for block.
 */
export function scale(pixels: Pixels, width: number, height: number): Pixels {
  const across = shares(pixels.width, width);
  const down = shares(pixels.height, height);
  const narrow = new Float32Array(width * pixels.height);
  for (let row = 0; row < pixels.height; row++) {
    for (let x = 0; x < width; x++) {
      narrow[row * width + x] = mean(pixels.light, row * pixels.width, 1, across[x]);
    }
  }
  const light = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) light[y * width + x] = mean(narrow, x, width, down[y]);
  }
  return { width, height, light };
}

/** Old pixels that a new one covers: the first of them, and how much of each. */
interface Share {
  readonly first: number;
  readonly parts: Float32Array;
}

function shares(old: number, count: number): Share[] {
  const step = old / count;
  return Array.from({ length: count }, (_, index) => {
    const [from, to] = [index * step, (index + 1) * step];
    const first = Math.floor(from + 1e-9);
    const end = Math.min(old, Math.max(first + 1, Math.ceil(to - 1e-9)));
    const parts = Float32Array.from({ length: end - first }, (_, part) => {
      const at = first + part;
      return Math.min(to, at + 1) - Math.max(from, at);
    });
    const sum = parts.reduce((total, part) => total + part, 0);
    return { first, parts: parts.map((part) => part / sum) };
  });
}

function mean(light: Float32Array, start: number, step: number, { first, parts }: Share): number {
  let sum = 0;
  for (let index = 0; index < parts.length; index++) {
    sum += light[start + (first + index) * step] * parts[index];
  }
  return sum;
}

/**
 * Brings out what a mean has washed out: each pixel goes away from the mean of those about it. A
 * stroke thinner than a block stays a stroke, where a threshold alone would lose it. (Unsharp
 * masking: common practice.)
 */
export function keepEdges({ width, height, light }: Pixels, amount = 1): Pixels {
  const kept = light.map((value, index) => {
    const [x, y] = [index % width, Math.floor(index / width)];
    let sum = 0;
    let count = 0;
    for (let row = Math.max(0, y - 1); row <= Math.min(height - 1, y + 1); row++) {
      for (let column = Math.max(0, x - 1); column <= Math.min(width - 1, x + 1); column++) {
        sum += light[row * width + column];
        count++;
      }
    }
    return Math.max(0, Math.min(1, value + amount * (value - sum / count)));
  });
  return { width, height, light: kept };
}
