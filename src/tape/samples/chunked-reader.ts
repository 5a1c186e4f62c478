/** What the readers of files made of chunks share: bytes come in pieces of any size. */

import { joined } from '../../machine/bytes.js';
import { badSound, SoundError } from '../sound-error.js';
import { cutShort } from './cut-short.js';
import { convertSamples, frameSize, type PlainFormat } from './plain-samples.js';
import { BLOCK, type SoundRead, type SoundReader, type TakeSamples } from './sound-format.js';

/** @typeParam Own what can be read besides the head of a chunk, and what is stepped over */
export abstract class ChunkedReader<Own extends string> implements SoundReader {
  /** What such a file is called. */
  protected abstract readonly kind: string;
  /** What is read next. */
  protected abstract state: Own | 'chunk' | 'skip';
  protected readonly notes: string[] = [];
  /** Bytes that do not suffice for the next step. */
  protected held = new Uint8Array(0);
  /** Bytes of the present chunk still to come. */
  protected left = 0;
  protected format: PlainFormat | undefined;
  /** Samples of each channel that were read. */
  protected samples = 0;
  private blocks: Float32Array[] = [];

  /**
   * @param take is called with the samples as they are read
   * @param partial reads a file that ends before its header says, instead of refusing it
   */
  constructor(
    private readonly take: TakeSamples,
    private readonly partial = false,
  ) {}

  /** Takes the next bytes of the file. Throws SoundError. */
  push(bytes: Uint8Array): void {
    const rest = this.held.length > 0 ? joined([this.held, bytes]) : bytes;
    let used = 0;
    for (;;) {
      const step = this.step(rest.subarray(used));
      if (step < 0) break;
      used += step;
    }
    this.held = rest.slice(used);
  }

  /** The file is at its end. Throws SoundError if that is too early. */
  finish(): SoundRead {
    const { format, kind, notes } = this;
    if (format === undefined) {
      throw badSound(`the ${kind} header ends before it says what the samples are`);
    }
    this.checkEnd();
    const { samples } = this;
    if (samples === 0) throw new SoundError(`the ${kind} file holds no samples`);
    return { format, samples, notes };
  }

  /** Notes what is missing at the end of the file. Throws SoundError where that is refused. */
  protected abstract checkEnd(): void;

  /** Uses some bytes and says how many, or −1 to wait for more. */
  protected abstract step(bytes: Uint8Array): number;

  /** Notes that the file ends before its header says. Throws SoundError where that is refused. */
  protected endEarly(message: string): void {
    cutShort(message, this.partial, this.notes);
  }

  /** Gives on what whole samples begin these bytes, `most` at most, and says how many bytes they take. */
  protected giveSamples(bytes: Uint8Array, most: number): number {
    const format = this.format!;
    const frame = frameSize(format);
    const count = Math.min(BLOCK, most, Math.floor(bytes.length / frame));
    if (count === 0) return 0;
    while (this.blocks.length < format.channels) this.blocks.push(new Float32Array(BLOCK));
    convertSamples(format, bytes, count, this.blocks);
    this.samples += count;
    this.take(this.blocks, count, format.rate);
    return count * frame;
  }

  /** What comes after the sound is of no use, and often malformed. */
  protected skipAll(): number {
    this.left = Number.POSITIVE_INFINITY;
    this.state = 'skip';
    return 0;
  }

  /** Steps over the present chunk. */
  protected skip(bytes: Uint8Array): number {
    const used = Math.min(bytes.length, this.left);
    this.left -= used;
    if (this.left === 0) this.state = 'chunk';
    else if (used === 0) return -1;
    return used;
  }
}
