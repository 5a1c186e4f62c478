import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lightOf, type Pixels } from '../../src/draw/pixels.js';
import { bestThreshold, blocksOfPixels, cellsOfPixels, DITHERS } from '../../src/draw/tones.js';

const flat = (width: number, height: number, light: number): Pixels => ({
  width,
  height,
  light: new Float32Array(width * height).fill(light),
});

const darkShare = ({ dark }: { dark: Uint8Array }): number =>
  dark.reduce((sum, one) => sum + one, 0) / dark.length;

describe('tones of blocks', () => {
  // What a dither is for: the mean of the blocks is the mean of the light.
  test.each(DITHERS.filter((dither) => dither !== 'none'))('%s keeps the mean light', (dither) => {
    for (const light of [0.125, 0.25, 0.5, 0.75, 0.875]) {
      const share = 1 - darkShare(blocksOfPixels(flat(64, 44, light), dither));
      expect(Math.abs(share - light)).toBeLessThan(0.03);
    }
  });

  test.each(DITHERS)('%s leaves ink and paper as they are', (dither) => {
    expect(darkShare(blocksOfPixels(flat(16, 16, 0), dither, 0.5))).toBe(1);
    expect(darkShare(blocksOfPixels(flat(16, 16, 1), dither, 0.5))).toBe(0);
  });

  // Floyd and Steinberg (1976), worked by hand: 7/16 of the error of the first pixel goes right.
  test('floyd-steinberg spreads the error of each pixel', () => {
    const row = { width: 4, height: 1, light: Float32Array.of(0.4, 0.4, 0.4, 0.4) };
    // 0.4 is dark, 0.575 is light, 0.4 - 0.186 = 0.214 is dark, 0.4 + 0.094 = 0.494 is dark.
    expect([...blocksOfPixels(row, 'floyd-steinberg').dark]).toEqual([1, 0, 1, 1]);
  });

  // Bayer (1973): the square of four by four fills up in the order of its numbers.
  test('bayer fills a square in its order', () => {
    const square = blocksOfPixels(flat(4, 4, 15 / 16), 'bayer');
    expect([...square.dark].flatMap((dark, at) => (dark ? [at] : []))).toEqual([12]);
  });

  test('a threshold is a lightness as the eye sees it', () => {
    const middle = flat(2, 2, lightOf(0.5));
    expect(darkShare(blocksOfPixels(middle, 'none', 0.51))).toBe(1);
    expect(darkShare(blocksOfPixels(middle, 'none', 0.49))).toBe(0);
  });
});

describe('the threshold that parts best', () => {
  test('lies midway between two tones, however many there are of each', () => {
    const tones = [...new Array(90).fill(0.2), ...new Array(10).fill(0.8)];
    expect(bestThreshold(tones)).toBeCloseTo(0.5, 2);
  });

  // Otsu (1979): the threshold maximises the variance between the two classes.
  test('has the largest variance between its classes', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 255 }), { minLength: 2, maxLength: 60 }),
        (all) => {
          const between = (level: number): number => {
            const below = all.filter((tone) => tone < level);
            const above = all.filter((tone) => tone >= level);
            if (below.length === 0 || above.length === 0) return 0;
            const mean = (tones: number[]) =>
              tones.reduce((sum, tone) => sum + tone, 0) / tones.length;
            return below.length * above.length * (mean(below) - mean(above)) ** 2;
          };
          const best = Math.max(...Array.from({ length: 256 }, (_, level) => between(level)));
          const found = between(bestThreshold(all.map((tone) => tone / 255)) * 255);
          expect(found).toBeGreaterThanOrEqual(best * (1 - 1e-9));
        },
      ),
      { seed: 18, numRuns: 300 },
    );
  });
});

test('each of the 22 graphics is nearest to its own quarters', () => {
  const tone = (light: number): Pixels => flat(2, 2, light);
  expect(cellsOfPixels(tone(0), 'none')[0][0]).toBe(128);
  expect(cellsOfPixels(tone(1), 'none')[0][0]).toBe(0);
  expect([8, 136]).toContain(cellsOfPixels(tone(lightOf(0.5)), 'none')[0][0]);
  for (let quarters = 0; quarters < 16; quarters++) {
    const light = Float32Array.from({ length: 4 }, (_, bit) => ((quarters >> bit) & 1 ? 0 : 1));
    const [[code]] = cellsOfPixels({ width: 2, height: 2, light }, 'none');
    expect(code).toBe(quarters < 8 ? quarters : 128 + 15 - quarters);
  }
  const half = Float32Array.of(lightOf(0.5), lightOf(0.5), 0, 0);
  expect(cellsOfPixels({ width: 2, height: 2, light: half }, 'none')[0][0]).toBe(138);
});
