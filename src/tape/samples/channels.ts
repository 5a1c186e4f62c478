/** The sounds that a recording of two channels holds. */
import type { Channel } from '../reading/recovery.js';

/** Makes one sound of the channels of a recording: `count` samples, in `block` if they are no channel's own. */
export type Mixer = (
  samples: readonly Float32Array[],
  count: number,
  block: Float32Array,
) => Float32Array;

/** What can be asked for of a recording with two channels or more; the first two count. */
export const MIXERS: Record<Exclude<Channel, 'mono'>, Mixer> = {
  mix: ([left, right], count, block) => {
    for (let i = 0; i < count; i++) block[i] = (left[i] + right[i]) / 2;
    return block;
  },
  left: ([left]) => left,
  right: ([, right]) => right,
  difference: ([left, right], count, block) => {
    for (let i = 0; i < count; i++) block[i] = (left[i] - right[i]) / 2;
    return block;
  },
};

export function mixerOf(channel: Channel): Mixer {
  return channel === 'mono' ? MIXERS.left : MIXERS[channel];
}
