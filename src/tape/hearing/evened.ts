/**
 * The same sound with fades made up for. Dirt, a crease or a bad take-up lifts the tape off the head for
 * some hundredths of a second: the sound grows softer and louder again, by far more than between a
 * pulse and a rest, but its pulses are all there. Strengthened to the height that it has around, they
 * are heard as well as any. What is no louder than the noise stays as it is.
 */
import { STEPS_A_SECOND } from './carrier.js';
import type { PulseLevels } from './pulse-levels.js';

/** How quickly it may grow softer or louder: by 40 dB within 7 ms, and by 4 dB into a rest. */
const DB_A_SECOND = 6000;
const FALL = 10 ** (-DB_A_SECOND / STEPS_A_SECOND / 20);
/** So many times as loud as what is left between the pulses something has to be to be one. */
const ABOVE_NOISE = 8;
/** What is softer than this part of the usual height is not strengthened any more. */
const SOFTEST = 1 / 200;
/** Steps of which one is looked at for the noise. */
const LOOKED_AT = 64;

/** Strength and phase of the pulses' pitch, as if all pulses were as loud as usual. */
export function evened(
  { re, im, strength, high, low }: PulseLevels,
  count: number,
): { re: Float32Array; im: Float32Array } {
  const [usual, noise] = usualOf(high, low, count);
  const floor = Math.max(SOFTEST * usual, ABOVE_NOISE * noise);
  const height = heightOf(strength, count);
  const [evenRe, evenIm] = [new Float32Array(count), new Float32Array(count)];
  for (let i = 0; i < count; i++) {
    const gain = usual / Math.max(height[i], floor);
    evenRe[i] = gain * re[i];
    evenIm[i] = gain * im[i];
  }
  return { re: evenRe, im: evenIm };
}

/** The usual height of the pulses in a block, and of what is between them. */
function usualOf(high: Float32Array, low: Float32Array, count: number): [number, number] {
  const highs: number[] = [];
  for (let i = 0; i < count; i += LOOKED_AT) highs.push(high[i]);
  highs.sort((a, b) => a - b);
  const usual = highs[Math.floor(0.9 * highs.length)] ?? 0;
  const lows: number[] = [];
  for (let i = 0; i < count; i += LOOKED_AT) if (high[i] > usual / 2) lows.push(low[i]);
  lows.sort((a, b) => a - b);
  return [usual, lows[lows.length >> 1] ?? usual];
}

/** No less than the strength itself, and falling no quicker than a fade does, forwards and backwards. */
function heightOf(strength: Float32Array, count: number): Float32Array {
  const height = new Float32Array(count);
  let fallen = 0;
  for (let i = 0; i < count; i++) {
    fallen = Math.max(strength[i], FALL * fallen);
    height[i] = fallen;
  }
  fallen = 0;
  for (let i = count - 1; i >= 0; i--) {
    fallen = Math.max(strength[i], FALL * fallen);
    height[i] = Math.min(height[i], fallen);
  }
  return height;
}
