/**
 * MP3 by the browser's own decoder, frame by frame and within the worker: decoded whole, a long tape
 * is some hundred megabytes of samples, and handing them over holds up the page for seconds.
 */
import { type SoundFrame, soundFrameAt } from '../../tape/samples/compressed/mpeg-frames.js';
import { tagSize } from '../../tape/samples/sound-kind.js';

/** Frames that are decoded at a time: some five seconds. */
const TURN = 200;
/** Milliseconds between two looks at whether they are. */
const LOOK = 4;

interface PlacedFrame extends SoundFrame {
  readonly at: number;
}

export class Mp3Decoder {
  private readonly decoded: Float32Array<ArrayBuffer>[][] = [];
  private readonly frames: Iterator<PlacedFrame>;
  private done = 0;
  private microseconds = 0;
  private error: unknown;

  /** Gives nothing where the browser does not decode it so, or there is no frame. */
  static async of(bytes: Uint8Array): Promise<Mp3Decoder | undefined> {
    const first = framesOf(bytes).next().value;
    // Only pages that come by HTTPS or from this computer have it, and not in every browser.
    if (first === undefined || typeof AudioDecoder === 'undefined') return undefined;
    const { channels, rate } = first;
    const { supported } = await AudioDecoder.isConfigSupported(configOf(channels, rate));
    return supported === true ? new Mp3Decoder(bytes, channels, rate) : undefined;
  }

  private readonly decoder = new AudioDecoder({
    output: (data) => {
      const { numberOfFrames, numberOfChannels, sampleRate } = data;
      if (sampleRate !== this.rate || numberOfChannels !== this.channels) {
        this.error ??= new Error('the sound changes on its way');
      }
      this.decoded.push(
        Array.from({ length: numberOfChannels }, (_, planeIndex) => {
          const samples = new Float32Array(numberOfFrames);
          data.copyTo(samples, { planeIndex, format: 'f32-planar' });
          return samples;
        }),
      );
      data.close();
    },
    error: (error) => {
      this.error = error;
    },
  });

  private constructor(
    private readonly bytes: Uint8Array,
    private readonly channels: number,
    readonly rate: number,
  ) {
    this.frames = framesOf(bytes);
    this.decoder.configure(configOf(channels, rate));
  }

  /** How much of the file is decoded, 0 to 1. */
  get part(): number {
    return this.done / this.bytes.length;
  }

  /** The next sound, each piece a sequence of samples a channel. Throws where the decoder gave up. */
  async more(): Promise<readonly Float32Array[][]> {
    const { decoder, bytes } = this;
    for (let turn = 0; turn < TURN && this.done < bytes.length && !this.error; turn++) {
      const next = this.frames.next();
      if (next.done) {
        this.done = bytes.length;
        break;
      }
      const { at, size, samples, rate } = next.value;
      const data = bytes.slice(at, at + size);
      decoder.decode(new EncodedAudioChunk({ type: 'key', timestamp: this.microseconds, data }));
      this.microseconds += (1e6 * samples) / rate;
      this.done = at + size;
    }
    if (this.part === 1 && !this.error) await decoder.flush();
    // Only at the end: what a frame borrows from those before it would be lost.
    while (decoder.decodeQueueSize > 0 && !this.error) {
      await new Promise((resolve) => setTimeout(resolve, LOOK));
    }
    if (this.error) throw this.error;
    return this.decoded.splice(0);
  }
}

const configOf = (numberOfChannels: number, sampleRate: number): AudioDecoderConfig => {
  return { codec: 'mp3', sampleRate, numberOfChannels };
};

/** The frames of a file; what looks like one behind something else is one where the next follows. */
function* framesOf(bytes: Uint8Array): Generator<PlacedFrame, undefined> {
  let isAstray = false;
  for (let at = tagSize(bytes); at < bytes.length; ) {
    const frame = soundFrameAt(bytes, at);
    const end = at + (frame?.size ?? 0);
    const isWhole = frame !== undefined && end <= bytes.length;
    if (isWhole && (!isAstray || soundFrameAt(bytes, end) !== undefined)) {
      yield { ...frame, at };
      at = end;
      isAstray = false;
    } else {
      at++;
      isAstray = true;
    }
  }
}
