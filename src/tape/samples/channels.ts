/** The sounds that a recording of two channels holds. */
import type { Channel } from '../reading/recovery.js';

/** Makes one sound of the channels of a recording: its sample at an index. */
export type Mixer = (samples: readonly Float32Array[], index: number) => number;

/** What can be asked for of a recording with two channels or more; the first two count. */
export const MIXERS: Record<Exclude<Channel, 'mono'>, Mixer> = {
  mix: (samples, i) => (samples[0][i] + samples[1][i]) / 2,
  left: (samples, i) => samples[0][i],
  right: (samples, i) => samples[1][i],
  difference: (samples, i) => (samples[0][i] - samples[1][i]) / 2,
};

export function mixerOf(channel: Channel): Mixer {
  return channel === 'mono' ? MIXERS.left : MIXERS[channel];
}
