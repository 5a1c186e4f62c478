/**
 * Reads an AIFF or AIFF-C file as it comes, piece by piece: plain samples of 1 to 32 bits, in either
 * order of their bytes, floating point of 32 or 64, µ-law or A-law; any number of channels up to 32.
 * Source: the Audio Interchange File Format of 1989 and its extension AIFF-C of 1991, from memory.
 */
import { badSound } from '../sound-error.js';
import { ChunkedReader } from './chunked-reader.js';
import { letters, type PlainFormat, view } from './plain-samples.js';
import { formatLie } from './sound-format.js';

/** The description of the samples has a text in it, and is no longer than this all the same. */
const LARGEST_DESCRIPTION = 4096;

/** What AIFF-C calls samples that stand one after another. */
const PLAIN: Record<string, Partial<PlainFormat>> = {
  NONE: {},
  twos: {},
  in24: { bits: 24 },
  in32: { bits: 32 },
  sowt: { highFirst: false },
  'raw ': { signed8: false },
  fl32: { float: true, bits: 32 },
  FL32: { float: true, bits: 32 },
  fl64: { float: true, bits: 64 },
  FL64: { float: true, bits: 64 },
  ulaw: { law: 'µ-law', bits: 8 },
  ULAW: { law: 'µ-law', bits: 8 },
  alaw: { law: 'A-law', bits: 8 },
  ALAW: { law: 'A-law', bits: 8 },
};

export class AiffReader extends ChunkedReader<'form' | 'description' | 'before' | 'data'> {
  protected readonly kind = 'AIFF';
  protected state: 'form' | 'chunk' | 'description' | 'before' | 'data' | 'skip' = 'form';
  /** Bytes that fill the present chunk to an even length. */
  private odd = 0;
  /** Samples of each channel that the description promises. */
  private promised = 0;
  private isCompressed = false;

  protected checkEnd(): void {
    const { samples, promised } = this;
    if (samples < promised) {
      this.endEarly(
        `the AIFF header promises ${promised - samples} more samples than the file has`,
      );
    }
  }

  /** Uses some bytes and says how many, or −1 to wait for more. */
  protected step(bytes: Uint8Array): number {
    switch (this.state) {
      case 'form':
        return this.form(bytes);
      case 'chunk':
        return this.chunk(bytes);
      case 'description':
        return this.description(bytes);
      case 'before':
        return this.before(bytes);
      case 'data':
        return this.data(bytes);
      case 'skip':
        return this.skip(bytes);
    }
  }

  private form(bytes: Uint8Array): number {
    if (bytes.length < 12) return -1;
    const form = letters(bytes, 8);
    if (letters(bytes, 0) !== 'FORM' || (form !== 'AIFF' && form !== 'AIFC')) {
      throw badSound('this is not an AIFF file');
    }
    this.isCompressed = form === 'AIFC';
    this.state = 'chunk';
    return 12;
  }

  private chunk(bytes: Uint8Array): number {
    if (bytes.length < 8) return -1;
    const name = letters(bytes, 0);
    this.left = view(bytes).getUint32(4);
    this.odd = this.left % 2;
    if (name === 'COMM') {
      if (this.left < 18 || this.left > LARGEST_DESCRIPTION) {
        throw badSound(`the AIFF header says its COMM part has ${this.left} bytes`);
      }
      this.state = 'description';
    } else if (name === 'SSND') {
      if (this.format === undefined) {
        throw badSound('the AIFF file has its sound before it says what the samples are');
      }
      this.state = 'before';
    } else {
      this.left += this.odd;
      this.state = 'skip';
    }
    return 8;
  }

  private description(bytes: Uint8Array): number {
    const size = this.left + this.odd;
    if (bytes.length < size) return -1;
    const own = bytes.subarray(0, this.left);
    const fields = view(own);
    this.promised = fields.getUint32(2);
    this.format = formatOf(own, this.isCompressed);
    this.state = 'chunk';
    return size;
  }

  /** What stands between the head of the sound's chunk and its first sample. */
  private before(bytes: Uint8Array): number {
    if (bytes.length < 8) return -1;
    const offset = view(bytes).getUint32(0);
    if (offset > LARGEST_DESCRIPTION) {
      throw badSound(`the AIFF header says its sound begins ${offset} bytes later`);
    }
    if (bytes.length < 8 + offset) return -1;
    this.state = 'data';
    return 8 + offset;
  }

  private data(bytes: Uint8Array): number {
    const wanted = this.promised - this.samples;
    const used = this.giveSamples(bytes, wanted);
    if (used > 0) return used;
    return wanted > 0 ? -1 : this.skipAll();
  }
}

function formatOf(bytes: Uint8Array, isCompressed: boolean): PlainFormat {
  const fields = view(bytes);
  const coding = isCompressed && bytes.length >= 22 ? letters(bytes, 18) : 'NONE';
  if (!Object.hasOwn(PLAIN, coding)) {
    throw badSound(`the AIFF file holds a coding (${coding}), not plain samples`);
  }
  const bits = fields.getUint16(6);
  const format = {
    channels: fields.getUint16(0),
    rate: extended(fields, 8),
    bits: Math.ceil(bits / 8) * 8,
    float: false,
    highFirst: true,
    signed8: true,
    ...PLAIN[coding],
  };
  const sizes = format.float ? [32, 64] : [8, 16, 24, 32];
  const lie =
    formatLie(format) ?? (sizes.includes(format.bits) ? undefined : `${bits} bits a sample`);
  if (lie) throw badSound(`the AIFF header is damaged: ${lie}`);
  return format;
}

/** A number of 80 bits: sign and exponent of 16, a mantissa of 64 with its leading 1 (IEEE 754). */
function extended(fields: DataView, at: number): number {
  const exponent = (fields.getUint16(at) & 0x7fff) - 16383 - 31;
  return (fields.getUint32(at + 2) + fields.getUint32(at + 6) / 2 ** 32) * 2 ** exponent;
}
