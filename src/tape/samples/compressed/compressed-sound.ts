/** Readers of compressed sound: what stands around it in the file is ours, its decoders are not. */

import type { FLACDecoder } from '@wasm-audio-decoders/flac';
import type { OggVorbisDecoder } from '@wasm-audio-decoders/ogg-vorbis';
import type { MPEGDecoder } from 'mpg123-decoder';
import type { OpusDecoder } from 'opus-decoder';
import { joined } from '../../../machine/bytes.js';
import { SoundError } from '../../sound-error.js';
import { cutShort } from '../cut-short.js';
import { letters, view } from '../plain-samples.js';
import {
  BLOCK,
  formatLie,
  type SoundFormat,
  type SoundRead,
  type SoundReader,
  type TakeSamples,
} from '../sound-format.js';
import { type DecodedKind, tagSize } from '../sound-kind.js';
import { soundFrameAt } from './mpeg-frames.js';
import { type OggPage, OggReader } from './ogg-pages.js';

/** Bytes that a decoder is given at once: of silence few bytes make much sound. */
const PIECE = 4096;

const AGAIN = 'copy or download the file again, or record the tape again';

/** Opens the reader of one kind. `partial` reads a file that ends too early, instead of refusing it. */
export async function openCompressed(
  kind: DecodedKind,
  take: TakeSamples,
  partial: boolean,
): Promise<SoundReader> {
  const decoders = await import('./decoders.js');
  const out = new Outlet(kind, take, partial);
  switch (kind) {
    case 'MP3': {
      const decoder = new decoders.MPEGDecoder();
      await decoder.ready;
      return new Mp3Reader(out, decoder);
    }
    case 'FLAC': {
      const decoder = new decoders.FLACDecoder();
      await decoder.ready;
      return new FlacReader(out, decoder);
    }
    case 'Ogg Opus':
      return new OpusReader(out, (head) => opusDecoder(head, decoders.OpusDecoder));
    default: {
      const decoder =
        kind === 'Ogg FLAC' ? new decoders.FLACDecoder() : new decoders.OggVorbisDecoder();
      await decoder.ready;
      return new OggPageReader(out, decoder);
    }
  }
}

/** What every decoder gives. */
interface Decoded {
  readonly channelData: Float32Array[];
  readonly samplesDecoded: number;
  readonly sampleRate: number;
  readonly errors: readonly unknown[];
}

/** Where decoded sound goes, in blocks that are not too large, and what is told of it in the end. */
class Outlet {
  samples = 0;
  /** Pieces that could not be decoded. */
  damaged = 0;
  readonly notes: string[] = [];
  private format: SoundFormat | undefined;

  constructor(
    private readonly kind: DecodedKind,
    private readonly take: TakeSamples,
    private readonly partial: boolean,
  ) {}

  /** Runs a decoder, and lets what it gives out. */
  async decode(
    run: () => Decoded | Promise<Decoded>,
    channels = Number.POSITIVE_INFINITY,
  ): Promise<void> {
    let decoded: Decoded;
    try {
      decoded = await run();
    } catch (error) {
      const words = error instanceof Error ? error.message : String(error);
      throw new SoundError(`the ${this.kind} is damaged, and its decoder gave up: ${words}`, AGAIN);
    }
    this.damaged += decoded.errors.length;
    if (decoded.samplesDecoded > 0) this.give(decoded, channels);
  }

  private give({ channelData, samplesDecoded, sampleRate }: Decoded, most: number): void {
    const all = channelData.slice(0, most);
    const format = { rate: sampleRate, channels: all.length };
    this.format ??= this.believed(format);
    if (format.rate !== this.format.rate || format.channels !== this.format.channels) {
      throw new SoundError(
        `the ${this.kind} changes from ${formatText(this.format)} to ${formatText(format)} on its way`,
        'cut it there, and give each part as a file of its own',
      );
    }
    for (let at = 0; at < samplesDecoded; at += BLOCK) {
      const count = Math.min(BLOCK, samplesDecoded - at);
      this.samples += count;
      this.take(
        all.map((channel) => channel.subarray(at, at + count)),
        count,
        sampleRate,
      );
    }
  }

  private believed(format: SoundFormat): SoundFormat {
    const lie = formatLie(format);
    if (lie) throw new SoundError(`the ${this.kind} is damaged: ${lie}`, AGAIN);
    return format;
  }

  /** Refuses a file that ends before it says, unless a part was asked for. */
  endEarly(message: string): void {
    cutShort(message, this.partial, this.notes);
  }

  finish(): SoundRead {
    const { format, samples, notes, damaged, kind } = this;
    if (format === undefined) {
      throw new SoundError(`there is no sound in it that can be decoded as ${kind}`, AGAIN);
    }
    if (damaged > 0) {
      const pieces = damaged === 1 ? '1 piece is' : `${damaged} pieces are`;
      notes.push(`${pieces} damaged; what could be decoded was read`);
    }
    return { format, samples, notes };
  }
}

const formatText = ({ rate, channels }: SoundFormat): string =>
  `${channels} ${channels === 1 ? 'channel' : 'channels'} at ${rate} samples a second`;

function* slices(bytes: Uint8Array): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += PIECE) yield bytes.subarray(at, at + PIECE);
}

/**
 * Only whole frames reach the decoder, which looks for the next one without end where there is
 * something else.
 */
class Mp3Reader implements SoundReader {
  private held = new Uint8Array(0);
  private skip = -1; // bytes of the tag still to come; −1 before it is known
  private isAstray = false;
  private frames = 0;
  private promised: number | undefined;
  private channels = 2;

  constructor(
    private readonly out: Outlet,
    private readonly decoder: MPEGDecoder,
  ) {}

  async push(bytes: Uint8Array): Promise<void> {
    await this.read(joined([this.held, bytes]), false);
  }

  async finish(): Promise<SoundRead> {
    await this.read(this.held, true);
    const { promised, frames, held, out } = this;
    if (promised !== undefined && frames < promised) {
      const missing = promised - frames;
      out.endEarly(
        `the MP3 header promises ${missing} more ${missing === 1 ? 'piece' : 'pieces'} of sound than could be read`,
      );
    } else if (promised === undefined && soundFrameAt(held, 0) !== undefined) {
      out.notes.push('the MP3 ends within a piece of sound; that one was left out');
    }
    return out.finish();
  }

  private async read(bytes: Uint8Array, isLast: boolean): Promise<void> {
    if (this.skip < 0) {
      if (bytes.length < 10 && !isLast) {
        this.held = bytes.slice();
        return;
      }
      this.skip = tagSize(bytes);
    }
    let at = Math.min(this.skip, bytes.length);
    this.skip -= at;
    const whole: Uint8Array[] = [];
    for (;;) {
      const frame = soundFrameAt(bytes, at);
      if (frame === undefined) {
        if (at + 4 > bytes.length) break;
        this.isAstray = true;
        at++;
        continue;
      }
      const end = at + frame.size;
      // What looks like a frame is one where the next begins at its end; the last has none.
      if (end > bytes.length || (end + 4 > bytes.length && !isLast)) break;
      if (end + 4 <= bytes.length && soundFrameAt(bytes, end) === undefined && this.isAstray) {
        at++;
        continue;
      }
      this.begin(bytes.subarray(at, end), frame);
      whole.push(bytes.slice(at, end));
      at = end;
    }
    this.held = bytes.slice(at);
    for (const piece of slices(joined(whole))) {
      await this.out.decode(() => this.decoder.decode(piece), this.channels);
    }
  }

  private begin(
    bytes: Uint8Array,
    { channels, sideEnd }: { channels: 1 | 2; sideEnd: number },
  ): void {
    if (this.isAstray && this.frames > 0) this.out.damaged++;
    this.isAstray = false;
    if (this.frames === 0 && this.promised === undefined) {
      this.channels = channels;
      // The first frame of most files holds no sound, but how many frames there are.
      if (['Xing', 'Info'].includes(letters(bytes, sideEnd)) && bytes.length >= sideEnd + 12) {
        if (bytes[sideEnd + 7] & 1) {
          this.promised = view(bytes).getUint32(sideEnd + 8);
          return;
        }
      }
    }
    this.frames++;
  }
}

/**
 * Zeros behind the last frame of FLAC: its decoder takes a frame that is shorter than the longest
 * header for a part of the one before, unless something follows. They leave the check sum as it is.
 */
const FLAC_REST = new Uint8Array(64);

/** The header says how many samples there are. */
class FlacReader implements SoundReader {
  private head = new Uint8Array(0);
  private skip = -1;
  private promised = 0;

  constructor(
    private readonly out: Outlet,
    private readonly decoder: FLACDecoder,
  ) {}

  async push(bytes: Uint8Array): Promise<void> {
    let rest = bytes;
    if (this.skip < 0) {
      this.head = joined([this.head, bytes]).slice();
      if (this.head.length < 10) return;
      this.skip = tagSize(this.head);
      rest = this.head;
    } else if (this.head.length < 42) {
      rest = joined([this.head, bytes]);
    }
    const tag = Math.min(this.skip, rest.length);
    this.skip -= tag;
    rest = rest.subarray(tag);
    if (this.promised === 0) {
      this.head = rest.slice(0, 42);
      if (rest.length < 42) return;
      // 36 bits of the first block of the header; 0 where the encoder did not know.
      this.promised = (rest[21] & 15) * 2 ** 32 + view(rest).getUint32(22) || -1;
    }
    for (const piece of slices(rest)) await this.out.decode(() => this.decoder.decode(piece));
  }

  async finish(): Promise<SoundRead> {
    if (this.skip === 0 && this.promised !== 0) {
      await this.out.decode(() => this.decoder.decode(FLAC_REST));
      await this.out.decode(() => this.decoder.flush());
    }
    const missing = this.promised - this.out.samples;
    if (missing > 0 && this.out.samples > 0) {
      this.out.endEarly(
        `the FLAC header promises ${missing} more ${missing === 1 ? 'sample' : 'samples'} than could be read`,
      );
    }
    return this.out.finish();
  }
}

/** What all Ogg files have in common: pages with a checksum, of which the last says so. */
abstract class OggSound implements SoundReader {
  private readonly pages: OggPage[] = [];
  private readonly reader = new OggReader((page) => this.pages.push(page));

  constructor(protected readonly out: Outlet) {}

  async push(bytes: Uint8Array): Promise<void> {
    this.reader.push(bytes);
    for (const page of this.pages.splice(0)) await this.page(page);
  }

  async finish(): Promise<SoundRead> {
    await this.end();
    this.out.damaged += this.reader.lost;
    if (!this.reader.isEnded && this.out.samples > 0) {
      this.out.endEarly('the Ogg file ends before its last page');
    }
    return this.out.finish();
  }

  protected abstract page(page: OggPage): Promise<void>;

  protected async end(): Promise<void> {}
}

/** Vorbis and FLAC in Ogg, whose decoders take pages. */
class OggPageReader extends OggSound {
  private hasPages = false;

  constructor(
    out: Outlet,
    private readonly decoder: OggVorbisDecoder | FLACDecoder,
  ) {
    super(out);
  }

  protected async page({ bytes }: OggPage): Promise<void> {
    this.hasPages = true;
    await this.out.decode(() => this.decoder.decode(bytes));
  }

  protected override async end(): Promise<void> {
    if (this.hasPages) await this.out.decode(() => this.decoder.flush());
  }
}

/** Opus in Ogg: the first packet says what the decoder must know, the second holds words. */
class OpusReader extends OggSound {
  private decoder: OpusDecoder | undefined;
  private packets = 0;

  constructor(
    out: Outlet,
    private readonly decoderFor: (head: Uint8Array) => Promise<OpusDecoder>,
  ) {
    super(out);
  }

  protected async page({ packets }: OggPage): Promise<void> {
    for (const packet of packets) {
      if (this.packets++ === 0) this.decoder = await this.decoderFor(packet);
      else if (this.packets > 2 && packet.length > 0) {
        await this.out.decode(() => this.decoder!.decodeFrame(packet));
      }
    }
  }
}

/** Source: RFC 7845, section 5.1. */
async function opusDecoder(head: Uint8Array, Decoder: typeof OpusDecoder): Promise<OpusDecoder> {
  const channels = head[9];
  if (
    head.length < 19 ||
    letters(head, 0, 8) !== 'OpusHead' ||
    !(channels >= 1 && channels <= 32)
  ) {
    throw new SoundError('the Ogg Opus header is damaged', AGAIN);
  }
  const isPlain = head[18] === 0;
  if (isPlain ? channels > 2 : head.length < 21 + channels) {
    throw new SoundError(
      'the Ogg Opus header is damaged: its channels contradict each other',
      AGAIN,
    );
  }
  const decoder = new Decoder({
    channels,
    preSkip: view(head).getUint16(10, true),
    streamCount: isPlain ? 1 : head[19],
    coupledStreamCount: isPlain ? channels - 1 : head[20],
    channelMappingTable: isPlain
      ? [0, 1].slice(0, channels)
      : [...head.subarray(21, 21 + channels)],
  });
  await decoder.ready;
  return decoder;
}
