/**
 * The frames of an MP3: each begins with a head of four bytes that says how long it is.
 * Source: ISO/IEC 11172-3, section 2.4.1.3, and ISO/IEC 13818-3 for the lower rates, from memory.
 */

export interface SoundFrame {
  /** Bytes, with the head. */
  readonly size: number;
  /** Samples a second. */
  readonly rate: number;
  readonly channels: 1 | 2;
  /** Samples of each channel. */
  readonly samples: number;
  /** Where in the frame what is not sound may stand, such as how many frames there are. */
  readonly sideEnd: number;
}

/** Kilobits a second of layer III, by the head's index. */
const FULL_KILOBITS = [0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320];
const LOW_KILOBITS = [0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160];
const RATES = [44100, 48000, 32000];

/** The frame of layer III whose head stands at `at`; undefined where none can. */
export function soundFrameAt(bytes: Uint8Array, at: number): SoundFrame | undefined {
  if (at + 4 > bytes.length || bytes[at] !== 0xff || (bytes[at + 1] & 0xe6) !== 0xe2) {
    return undefined;
  }
  const version = (bytes[at + 1] >> 3) & 3; // 3 is MPEG 1, 2 is MPEG 2, 0 is its extension
  const kilobits = (version === 3 ? FULL_KILOBITS : LOW_KILOBITS)[bytes[at + 2] >> 4];
  const fullRate = RATES[(bytes[at + 2] >> 2) & 3];
  if (version === 1 || !kilobits || !fullRate || (bytes[at + 3] & 3) === 2) return undefined;
  const rate = fullRate >> (version === 3 ? 0 : version === 2 ? 1 : 2);
  const samples = version === 3 ? 1152 : 576;
  const padding = (bytes[at + 2] >> 1) & 1;
  const channels = bytes[at + 3] >> 6 === 3 ? 1 : 2;
  const side = version === 3 ? [17, 32] : [9, 17];
  return {
    size: Math.floor(((samples / 8) * kilobits * 1000) / rate) + padding,
    rate,
    channels,
    samples,
    sideEnd: 4 + side[channels - 1],
  };
}
