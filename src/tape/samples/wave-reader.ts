/**
 * Reads a RIFF/WAVE file as it comes, piece by piece: chunks in any order, plain samples of 8, 16,
 * 24 or 32 bits, floating point of 32 or 64, µ-law or A-law, any number of channels up to 32.
 * Source: the RIFF/WAVE format of 1991 and its WAVE_FORMAT_EXTENSIBLE, from memory.
 */
import { badSound } from '../sound-error.js';
import { ChunkedReader } from './chunked-reader.js';
import type { Law } from './law-samples.js';
import { frameSize, letters, type PlainFormat, view } from './plain-samples.js';
import { formatLie, type SoundRead } from './sound-format.js';

const PLAIN = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;
const LAWS: Readonly<Record<number, Law>> = { 6: 'A-law', 7: 'µ-law' };
/** Numbers of the formats that are no plain samples. */
export const CODINGS: Readonly<Record<number, string>> = {
  2: 'ADPCM',
  17: 'ADPCM',
  49: 'GSM',
  80: 'MPEG',
  85: 'MP3',
};
/** What recorders that do not know the length yet write as the size of the data. */
const UNKNOWN_SIZES = [0, 0xffffffff, 0x7fffffff, 0xfffffffe, 0x7ffff000, 0xfffff000];
/** A chunk of anything but samples that is larger than this is not believed. */
const LARGEST_FORMAT_CHUNK = 4096;

export class WaveReader extends ChunkedReader<'riff' | 'format' | 'data'> {
  protected readonly kind = 'WAV';
  protected state: 'riff' | 'chunk' | 'format' | 'skip' | 'data' = 'riff';
  private unknownSize = false;
  private wide = false; // RF64: the size of the data is in ds64
  private wideSize = 0;
  private chunkName = '';
  private bytesRead = 0;

  override push(bytes: Uint8Array): void {
    this.bytesRead += bytes.length;
    super.push(bytes);
  }

  override finish(): SoundRead {
    if (this.state === 'riff') {
      throw badSound(this.bytesRead === 0 ? 'the file is empty' : 'this is not a WAV file');
    }
    return super.finish();
  }

  protected checkEnd(): void {
    if (this.state === 'data' && !this.unknownSize && this.left > 0) {
      const missing = this.left - this.held.length;
      if (missing > 0) {
        this.endEarly(`the WAV header promises ${missing} more bytes of sound than the file has`);
      }
    }
  }

  /** Uses some bytes and says how many, or −1 to wait for more. */
  protected step(bytes: Uint8Array): number {
    switch (this.state) {
      case 'riff':
        return this.riff(bytes);
      case 'chunk':
        return this.chunk(bytes);
      case 'format':
        return this.formatChunk(bytes);
      case 'skip':
        return this.skip(bytes);
      case 'data':
        return this.data(bytes);
    }
  }

  private riff(bytes: Uint8Array): number {
    if (bytes.length < 12) return -1;
    const form = letters(bytes, 0);
    if (letters(bytes, 8) !== 'WAVE' || (form !== 'RIFF' && form !== 'RF64')) {
      throw badSound(`this is not a WAV file${kindOf(bytes)}`);
    }
    this.wide = form === 'RF64';
    this.state = 'chunk';
    return 12;
  }

  private chunk(bytes: Uint8Array): number {
    if (bytes.length < 8) return -1;
    this.chunkName = letters(bytes, 0);
    this.left = view(bytes).getUint32(4, true);
    if (this.chunkName === 'data') {
      this.beginData();
    } else if (this.chunkName === 'fmt ' || this.chunkName === 'ds64') {
      if (this.left > LARGEST_FORMAT_CHUNK) {
        throw badSound(
          `the WAV header says its ${this.chunkName.trim()} part has ${this.left} bytes`,
        );
      }
      this.state = 'format';
    } else {
      this.state = 'skip';
      this.left += this.left % 2;
    }
    return 8;
  }

  private beginData(): void {
    if (this.format === undefined) {
      throw badSound('the WAV file has sound before it says what the samples are');
    }
    if (this.wide && this.left === 0xffffffff) this.left = this.wideSize;
    this.unknownSize = UNKNOWN_SIZES.includes(this.left);
    if (this.unknownSize) {
      this.notes.push('the WAV header does not say how long the sound is; all of it was read');
    }
    this.state = 'data';
  }

  private formatChunk(bytes: Uint8Array): number {
    const size = this.left + (this.left % 2);
    if (bytes.length < size) return -1;
    if (this.chunkName === 'ds64') {
      if (size >= 16) this.wideSize = Number(view(bytes).getBigUint64(8, true));
    } else {
      this.format = readFormat(bytes.subarray(0, this.left));
    }
    this.state = 'chunk';
    return size;
  }

  private data(bytes: Uint8Array): number {
    const frame = frameSize(this.format!);
    const most = this.unknownSize ? Number.POSITIVE_INFINITY : Math.floor(this.left / frame);
    const used = this.giveSamples(bytes, most);
    if (!this.unknownSize) this.left -= used;
    if (used > 0) return used;
    if (this.unknownSize || this.left >= frame) return -1;
    if (this.left > 0) this.notes.push('the sound ends within a sample; that one was left out');
    return this.skipAll();
  }
}

function readFormat(bytes: Uint8Array): PlainFormat {
  if (bytes.length < 16) throw badSound('the WAV header is cut short');
  const fields = view(bytes);
  let tag = fields.getUint16(0, true);
  const channels = fields.getUint16(2, true);
  const rate = fields.getUint32(4, true);
  const byteRate = fields.getUint32(8, true);
  const frame = fields.getUint16(12, true);
  const bits = fields.getUint16(14, true);
  if (tag === EXTENSIBLE) {
    if (bytes.length < 26) throw badSound('the WAV header is cut short');
    tag = fields.getUint16(24, true);
  }
  const law = LAWS[tag];
  if (tag !== PLAIN && tag !== FLOAT && law === undefined) {
    const name = CODINGS[tag] ?? `a coding (number ${tag})`;
    throw badSound(`the WAV file holds ${name}, not plain samples`);
  }
  // A sample by one of the laws is a byte, whatever it stands for.
  const stored = law === undefined ? bits : 8;
  const lie = headerLie(tag === FLOAT, channels, rate, byteRate, frame, stored);
  if (lie) throw badSound(`the WAV header contradicts itself or is damaged: ${lie}`);
  return { rate, channels, bits: (frame / channels) * 8, float: tag === FLOAT, law };
}

/** What cannot be true of these fields, if anything. */
function headerLie(
  float: boolean,
  channels: number,
  rate: number,
  byteRate: number,
  frame: number,
  bits: number,
): string | undefined {
  const common = formatLie({ rate, channels });
  if (common !== undefined) return common;
  const sizes = float ? [32, 64] : [8, 16, 24, 32];
  // Samples of, say, 12 or 20 bits stand in the next whole number of bytes.
  const container = Math.ceil(bits / 8) * 8;
  if (!sizes.includes(container) || bits < 8) {
    return `${bits} bits a sample${float ? ' in floating point' : ''}`;
  }
  const widest = (frame / channels) * 8;
  if (!sizes.includes(widest) || widest < container) {
    return `${frame} bytes for ${channels} samples of ${bits} bits`;
  }
  if (byteRate !== 0 && byteRate !== rate * frame) {
    return `${byteRate} bytes a second, where ${rate} samples of ${frame} bytes make ${rate * frame}`;
  }
  return undefined;
}

/** What the file seems to be instead, for the message. */
function kindOf(bytes: Uint8Array): string {
  const first = letters(bytes, 0);
  if (first === 'RIFF' || first === 'RF64') return ' (a RIFF file of another kind)';
  return first === 'RIFX' ? ' (its bytes are in the other order)' : '';
}
