/**
 * Every pulse and rest of a written file, measured from its samples against the published signal.
 * Source: I. Logan and F. O'Hara, the ROM disassembly (1982), the SAVE routine, from memory:
 * a 0 is four pulses, a 1 is nine, of 150 µs high and 150 µs low, then a rest of 256 rounds of
 * 17 T-states at 3.25 MHz; each byte high bit first; bit 7 set on the last character of the name.
 * The container is read by an independent reader, the package wavefile.
 */

import { describe, expect, it } from 'vitest';
import { WaveFile } from 'wavefile';
import { type RecordOptions, recordProgram } from '../../src/tape/writing/record.js';
import { drawImage, drawName } from '../tape/images.js';

const HIGH = 150e-6;
const LOW = 150e-6;
const REST = (256 * 17) / 3.25e6;

/** Times, in samples, at which the signal goes through the middle, by straight lines between samples. */
function crossings(samples: Float64Array): { at: number; up: boolean }[] {
  const found: { at: number; up: boolean }[] = [];
  for (let i = 1; i < samples.length; i++) {
    const [a, b] = [samples[i - 1], samples[i]];
    if (a <= 0 === b <= 0) continue;
    found.push({ at: i - 1 + a / (a - b), up: b > 0 });
  }
  return found;
}

/** Times of all edges, in seconds, as the source has them. */
function trueEdges(tape: readonly number[], lead: number, speed: number): number[] {
  const edges: number[] = [];
  let time = 0;
  for (const byte of tape) {
    for (let mask = 128; mask > 0; mask >>= 1) {
      for (let pulse = byte & mask ? 9 : 4; pulse > 0; pulse--) {
        edges.push(lead + time / speed, lead + (time + HIGH) / speed);
        time += HIGH + LOW;
      }
      time += REST;
    }
  }
  return edges;
}

function readBack(wav: Uint8Array): { rate: number; samples: Float64Array } {
  const file = new WaveFile(wav);
  const { sampleRate, numChannels } = file.fmt as { sampleRate: number; numChannels: number };
  expect(numChannels).toBe(1);
  if (file.bitDepth === '8') {
    const samples = file.getSamples(false, Uint8Array) as unknown as Uint8Array;
    return { rate: sampleRate, samples: Float64Array.from(samples, (sample) => sample - 128) };
  }
  return {
    rate: sampleRate,
    samples: file.getSamples(false, Float64Array) as unknown as Float64Array,
  };
}

function worstEdge(size: number, options: RecordOptions): { edges: number; off: number } {
  const name = drawName(3);
  const image = drawImage(3, size);
  const { rate, samples } = readBack(recordProgram({ name, image }, options));
  const tape = [...name, ...image];
  tape[name.length - 1] |= 128;
  const edges = trueEdges(tape, options.lead ?? 5, options.speed ?? 1);
  const measured = crossings(options.invert ? samples.map((sample) => -sample) : samples);
  expect(measured.length).toBe(edges.length);
  expect(measured.every(({ up }, i) => up === (i % 2 === 0))).toBe(true);
  const off = measured.reduce(
    (most, { at }, i) => Math.max(most, Math.abs(at - edges[i] * rate)),
    0,
  );
  return { edges: edges.length, off };
}

describe('every edge within a quarter of a sample', () => {
  it.each([8000, 11025, 16000, 22050, 32000, 44100, 48000, 96000, 192000])('at %i Hz', (rate) => {
    expect(worstEdge(20, { rate, lead: 1 }).off).toBeLessThan(0.25);
  });

  it.each<[string, RecordOptions]>([
    ['8 bits', { bits: 8 }],
    ['24 bits', { bits: 24 }],
    ['inverted', { invert: true }],
    ['rounded', { shape: 'rounded' }],
    ['rounded at 11025 Hz', { shape: 'rounded', rate: 11025 }],
    ['rounded at 8000 Hz', { shape: 'rounded', rate: 8000 }],
    ['a fifth faster', { speed: 1.2 }],
    ['a quarter slower', { speed: 0.75 }],
    ['a low level', { level: 0.01 }],
  ])('%s', (_, options) => {
    expect(worstEdge(20, { lead: 0.5, ...options }).off).toBeLessThan(0.25);
  });

  it('to the last pulse of seven minutes: nothing drifts', () => {
    const { edges, off } = worstEdge(16000, { rate: 8000, lead: 1 });
    expect(edges).toBeGreaterThan(1_000_000);
    expect(off).toBeLessThan(0.25);
  });
});
