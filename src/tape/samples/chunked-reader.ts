/** What the readers of files made of chunks share: bytes come in pieces of any size. */
import { joined } from '../../machine/bytes.js';
import { cutShort } from './cut-short.js';
import type { SoundRead, SoundReader, TakeSamples } from './sound-format.js';

export abstract class ChunkedReader implements SoundReader {
  protected readonly notes: string[] = [];
  /** Bytes that do not suffice for the next step. */
  protected held = new Uint8Array(0);
  /** Bytes of the present chunk still to come. */
  protected left = 0;

  /**
   * @param take is called with the samples as they are read
   * @param partial reads a file that ends before its header says, instead of refusing it
   */
  constructor(
    protected readonly take: TakeSamples,
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
  abstract finish(): SoundRead;

  /** Uses some bytes and says how many, or −1 to wait for more. */
  protected abstract step(bytes: Uint8Array): number;

  /** Notes that the file ends before its header says. Throws SoundError where that is refused. */
  protected endEarly(message: string): void {
    cutShort(message, this.partial, this.notes);
  }

  /** Steps over the present chunk; `ended` is called behind it. */
  protected skipChunk(bytes: Uint8Array, ended: () => void): number {
    const used = Math.min(bytes.length, this.left);
    this.left -= used;
    if (this.left === 0) ended();
    else if (used === 0) return -1;
    return used;
  }
}
