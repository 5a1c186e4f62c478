/** What sound files of every kind come to: their format, their samples, and what reads them. */

export interface SoundFormat {
  /** Samples a second of one channel. */
  readonly rate: number;
  readonly channels: number;
}

/** Takes one block of sound: `count` samples of every channel, −1 to 1, channels one after another. */
export type TakeSamples = (samples: Float32Array[], count: number, rate: number) => void;

/** Most samples of a channel in one block. */
export const BLOCK = 4096;

/** A sound file once it is read. */
export interface SoundRead {
  readonly format: SoundFormat;
  /** Samples of each channel. */
  readonly samples: number;
  /** What was odd about the file and did no harm. */
  readonly notes: readonly string[];
}

/** Reads a sound file as it comes, piece by piece. */
export interface SoundReader {
  /** Takes the next bytes of the file. Throws SoundError. */
  push(bytes: Uint8Array): void | Promise<void>;
  /** The file is at its end. Throws SoundError if that is too early. */
  finish(): SoundRead | Promise<SoundRead>;
}

/** Less than this many samples a second hold no tape's sound; more are a header's lie. */
export const LEAST_RATE = 4000;
export const MOST_RATE = 1_000_000;
export const MOST_CHANNELS = 32;

/** What cannot be true of these, if anything. */
export function formatLie({ rate, channels }: SoundFormat): string | undefined {
  if (!(channels >= 1 && channels <= MOST_CHANNELS)) return `${channels} channels`;
  if (!(rate >= LEAST_RATE && rate <= MOST_RATE)) return `${rate} samples a second`;
  return undefined;
}
