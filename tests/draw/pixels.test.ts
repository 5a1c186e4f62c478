import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { crop, invert, lightOf, pixelsOfRgba, shade, upright } from '../../src/draw/pixels.js';
import { keepEdges, scale, sizeWithin } from '../../src/draw/scale.js';
import { blocksOfPixels } from '../../src/draw/tones.js';

describe('light', () => {
  // IEC 61966-2-1, from memory: the byte 188 is half the light of white, 255.
  test('of a byte is that of the sRGB standard', () => {
    const { light } = pixelsOfRgba(Uint8Array.of(188, 188, 188, 255), 1, 1);
    expect(light[0]).toBeCloseTo(0.503, 3);
    for (let step = 0; step <= 20; step++)
      expect(lightOf(shade(step / 20))).toBeCloseTo(step / 20, 9);
  });

  test('what is clear is paper', () => {
    expect([...pixelsOfRgba(Uint8Array.of(0, 0, 0, 0, 0, 0, 0, 255), 2, 1).light]).toEqual([1, 0]);
  });

  test('inverted twice is the same', () => {
    const pixels = { width: 3, height: 1, light: Float32Array.of(0, 0.3, 1) };
    const twice = invert(invert(pixels)).light;
    twice.forEach((value, index) => {
      expect(value).toBeCloseTo(pixels.light[index], 5);
    });
  });
});

describe('parts and turns', () => {
  const letter = { width: 2, height: 3, light: Float32Array.of(1, 2, 3, 4, 5, 6) };

  test('a part of a picture', () => {
    expect([...crop(letter, [1, 1, 1, 2]).light]).toEqual([4, 6]);
    expect(() => crop(letter, [1, 1, 2, 2])).toThrow(/2 by 2 at 1,1 is not within 2 by 3/);
  });

  // Exif, tag 0x0112, from memory: which side the first row and column of the stored picture are.
  test.each([
    [1, 2, [1, 2, 3, 4, 5, 6]],
    [2, 2, [2, 1, 4, 3, 6, 5]],
    [3, 2, [6, 5, 4, 3, 2, 1]],
    [4, 2, [5, 6, 3, 4, 1, 2]],
    [5, 3, [1, 3, 5, 2, 4, 6]],
    [6, 3, [5, 3, 1, 6, 4, 2]],
    [7, 3, [6, 4, 2, 5, 3, 1]],
    [8, 3, [2, 4, 6, 1, 3, 5]],
  ])('orientation %i', (orientation, width, light) => {
    const turned = upright(letter, orientation);
    expect(turned.width).toBe(width);
    expect([...turned.light]).toEqual(light);
  });
});

describe('scaling', () => {
  test('keeps the shape within the box', () => {
    expect(sizeWithin({ width: 400, height: 300 }, { width: 64, height: 44 })).toEqual({
      width: 59,
      height: 44,
    });
    expect(sizeWithin({ width: 9000, height: 1 }, { width: 64, height: 44 })).toEqual({
      width: 64,
      height: 1,
    });
  });

  test('large blocks come out block for block, edges kept or not', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(0, 1), { minLength: 48, maxLength: 48 }),
        fc.integer({ min: 1, max: 9 }),
        (dark, times) => {
          const [width, height] = [8, 6];
          const light = new Float32Array(width * height * times * times);
          light.forEach((_, at) => {
            const [x, y] = [at % (width * times), Math.floor(at / (width * times))];
            light[at] = 1 - dark[Math.floor(y / times) * width + Math.floor(x / times)];
          });
          const small = scale(
            { width: width * times, height: height * times, light },
            width,
            height,
          );
          expect([...blocksOfPixels(small, 'none', 0.5).dark]).toEqual(dark);
          expect([...blocksOfPixels(keepEdges(small), 'none', 0.5).dark]).toEqual(dark);
        },
      ),
      { seed: 18, numRuns: 60 },
    );
  });

  test('a mean of light stays what it was', () => {
    const light = Float32Array.from({ length: 70 }, (_, at) => ((at * 37) % 11) / 10);
    const mean = (values: Float32Array): number =>
      values.reduce((sum, value) => sum + value, 0) / values.length;
    const small = scale({ width: 10, height: 7, light }, 4, 3);
    expect(mean(small.light)).toBeCloseTo(mean(light), 5);
  });

  test('a stroke thinner than a block stays a stroke', () => {
    const light = new Float32Array(60 * 60).fill(1);
    for (let y = 0; y < 60; y++) light.fill(0, y * 60 + 32, y * 60 + 35);
    const small = scale({ width: 60, height: 60, light }, 6, 6);
    expect(small.light[3]).toBeCloseTo(0.7, 5);
    const columns = [...blocksOfPixels(keepEdges(small), 'none').dark.subarray(0, 6)];
    expect(columns).toEqual([0, 0, 0, 1, 0, 0]);
  });
});
