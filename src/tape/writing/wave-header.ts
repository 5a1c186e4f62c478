/** The head of a RIFF/WAVE file for plain samples of one channel. */
import { SoundError } from '../sound-error.js';

/** Bits of a sample that are written: 8 without sign, 16 and 24 with. */
export type SampleBits = 8 | 16 | 24;

export const HEADER_SIZE = 44;
/** The sizes in the file have 32 bits, and the first counts 36 bytes of the head. */
const LARGEST_DATA = 0xffffffff - 36;

/** The 44 bytes before the samples. `samples` is how many will follow. */
export function waveHeader(rate: number, bits: SampleBits, samples: number): Uint8Array {
  const frame = bits / 8;
  const size = samples * frame;
  const padded = size + (size % 2);
  if (padded > LARGEST_DATA) {
    throw new SoundError(
      `the recording would have ${size} bytes, more than a WAV file can hold`,
      'use a lower rate, fewer bits, or fewer programs in one file',
    );
  }
  const header = new Uint8Array(HEADER_SIZE);
  const view = new DataView(header.buffer);
  const text = (at: number, letters: string) => {
    for (let i = 0; i < 4; i++) header[at + i] = letters.charCodeAt(i);
  };
  text(0, 'RIFF');
  view.setUint32(4, 36 + padded, true);
  text(8, 'WAVE');
  text(12, 'fmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true); // plain samples
  view.setUint16(22, 1, true); // one channel
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * frame, true);
  view.setUint16(32, frame, true);
  view.setUint16(34, bits, true);
  text(36, 'data');
  view.setUint32(40, size, true);
  return header;
}

/** Puts one sample of −1 to 1 at its place in `bytes`; `index` counts samples. */
export function putSample(bytes: Uint8Array, index: number, bits: SampleBits, value: number): void {
  if (bits === 8) {
    bytes[index] = 128 + Math.round(value * 127);
    return;
  }
  const whole = Math.round(value * (bits === 16 ? 0x7fff : 0x7fffff));
  const at = index * (bits / 8);
  bytes[at] = whole;
  bytes[at + 1] = whole >> 8;
  if (bits === 24) bytes[at + 2] = whole >> 16;
}
