/** Samples as they stand in a file, one after another and not compressed. */
import { LAW_SAMPLES, type Law } from './law-samples.js';
import type { SoundFormat } from './sound-format.js';

export interface PlainFormat extends SoundFormat {
  readonly bits: number;
  readonly float: boolean;
  /** Does the highest byte of a sample come first? Not asked of 8 bits. */
  readonly highFirst?: boolean;
  /** Have samples of 8 bits a sign? */
  readonly signed8?: boolean;
  /** They are of 8 bits, by this law. */
  readonly law?: Law;
}

/** Bytes of one sample of every channel. */
export const frameSize = ({ channels, bits }: PlainFormat): number => channels * (bits / 8);

/** Puts `count` samples of each channel into `blocks`, −1 to 1. */
export function convertSamples(
  format: PlainFormat,
  bytes: Uint8Array,
  count: number,
  blocks: readonly Float32Array[],
): void {
  const step = format.bits / 8;
  if (format.bits === 16) {
    convertWords(format, bytes, count, blocks);
    return;
  }
  const read = sampleReader(format, bytes);
  for (let channel = 0; channel < format.channels; channel++) {
    const block = blocks[channel];
    let at = channel * step;
    for (let i = 0; i < count; i++, at += step * format.channels) block[i] = read(at);
  }
}

/** The same for the size that nearly all files have. */
function convertWords(
  { channels, highFirst }: PlainFormat,
  bytes: Uint8Array,
  count: number,
  blocks: readonly Float32Array[],
): void {
  const [high, low] = highFirst ? [0, 1] : [1, 0];
  for (let channel = 0; channel < channels; channel++) {
    const block = blocks[channel];
    for (let i = 0, at = 2 * channel; i < count; i++, at += 2 * channels) {
      block[i] = ((bytes[at + high] << 24) | (bytes[at + low] << 16)) / 0x80000000;
    }
  }
}

/** A function from a place in `bytes` to the sample there, −1 to 1. */
function sampleReader(
  { bits, float, highFirst, signed8, law }: PlainFormat,
  bytes: Uint8Array,
): (at: number) => number {
  const data = view(bytes);
  if (float) {
    const read = (at: number) =>
      bits === 32 ? data.getFloat32(at, !highFirst) : data.getFloat64(at, !highFirst);
    // Not-a-number and infinity would spoil everything after them.
    return (at) => {
      const value = read(at);
      return Number.isFinite(value) ? value : 0;
    };
  }
  if (law) return (at) => LAW_SAMPLES[law][bytes[at]];
  if (bits === 8) return signed8 ? (at) => data.getInt8(at) / 128 : (at) => (bytes[at] - 128) / 128;
  if (bits === 24) {
    const [high, low] = highFirst ? [0, 2] : [2, 0];
    return (at) =>
      ((bytes[at + low] << 8) | (bytes[at + 1] << 16) | (bytes[at + high] << 24)) / 0x80000000;
  }
  return (at) => data.getInt32(at, !highFirst) / 0x80000000;
}

export function view(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

export function letters(bytes: Uint8Array, at: number, count = 4): string {
  return String.fromCharCode(...bytes.subarray(at, at + count));
}
