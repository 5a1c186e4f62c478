/**
 * Samples of 8 bits that stand for 14 or 13, as the telephone has them. Source: ITU-T G.711, from memory.
 */

/** Which of the two: that of North America and Japan, or that of the rest of the world. */
export type Law = 'µ-law' | 'A-law';

/** What is added before a height is coded, so that each step is twice the one before. */
const BIAS = 0x84;

/** Every code as a sample, −1 to 1. */
export const LAW_SAMPLES: Readonly<Record<Law, Float32Array>> = {
  'µ-law': Float32Array.from({ length: 256 }, (_, code) => muLaw(code) / 0x8000),
  'A-law': Float32Array.from({ length: 256 }, (_, code) => aLaw(code) / 0x8000),
};

function muLaw(code: number): number {
  const flipped = ~code;
  const height = (((flipped & 15) << 3) + BIAS) << ((flipped >> 4) & 7);
  return flipped & 128 ? BIAS - height : height - BIAS;
}

function aLaw(code: number): number {
  const flipped = code ^ 0x55;
  const step = (flipped >> 4) & 7;
  const low = ((flipped & 15) << 4) + 8;
  const height = step === 0 ? low : (low + 0x100) << (step - 1);
  return flipped & 128 ? height : -height;
}
