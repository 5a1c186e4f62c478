/**
 * What shows that a program began before the first of its bits that can be read. Where a hole follows
 * a few bits they are too short to be worth a path of their own; where a fade ends, the bits before
 * may have been too soft. Without a sign of them, what comes after would look like the beginning.
 */
import type { PathBit } from './bit-path.js';
import { STEPS_A_SECOND } from './carrier.js';
import { BIT_STEPS, LONGEST_STRETCH, REST_STEPS, runsOf } from './hole-stretch.js';
import type { PulseLevels } from './pulse-levels.js';

/** So loud, against those after them, are pulses of the same tape; first bits that are less fade in. */
const AS_LOUD = 0.6;
const FADES_IN = 0.5;
/** Steps from a bit over which the next ones show how loud the tape is. */
const SHOWN = Math.round(0.024 * STEPS_A_SECOND);
/** With such a margin and such a fit a bit is no noise. */
const HEARD_MARGIN = 20;
const HEARD_FIT = 0.5;

/**
 * The bits again; before those that follow no others, what stands alone or was too soft, as unclear bits.
 * @param sounds levels of the sound itself, and of the one in which these bits were heard
 * @param last step at which the bits end that were given before these, if any were
 */
export function withStrays(
  sounds: readonly PulseLevels[],
  bits: readonly PathBit[],
  last: number,
): readonly PathBit[] {
  const result: PathBit[] = [];
  let end = last;
  for (let i = 0; i < bits.length; i++) {
    const bit = bits[i];
    const reach = bit.start - LONGEST_STRETCH;
    const heard = end < reach ? bits.slice(i).find(isHeard) : undefined;
    if (heard) {
      const strays = straysIn(sounds, Math.max(0, Math.ceil(reach)), bit.start, heard.start);
      result.push(...strays);
      if (strays.length === 0 && fadesIn(sounds[0], heard)) result.push(...tooSoftBefore(bit));
    }
    result.push(bit);
    end = bit.end;
  }
  return result;
}

/** The runs of pulses between two steps that are, in all these sounds, as loud as those from `like` on. */
function straysIn(
  sounds: readonly PulseLevels[],
  from: number,
  to: number,
  like: number,
): PathBit[] {
  const least = sounds.map(({ strength }) => AS_LOUD * loudest(strength, like, like + SHOWN));
  const isPulse = (step: number) =>
    sounds.every(({ soft, strength }, i) => soft[step] > 0 && strength[step] >= least[i]);
  const runs = runsOf(isPulse, from, to);
  const strays: PathBit[] = [];
  for (let run = 1; run + 1 < runs.length; run += 2) {
    const [start, rest] = [runs[run], runs[run + 1]];
    const bit = rest - start > (BIT_STEPS[0] + BIT_STEPS[1]) / 2 - REST_STEPS ? 1 : 0;
    strays.push(unclear(bit, start, rest, Math.min(rest + REST_STEPS, runs[run + 2] ?? to)));
  }
  return strays;
}

/** Is this bit, the first that was heard, much softer than the next ones? */
function fadesIn({ strength }: PulseLevels, { start, rest, end }: PathBit): boolean {
  return loudest(strength, start, rest) < FADES_IN * loudest(strength, end, end + SHOWN);
}

/** A bit that was too soft to be heard, if there was one. */
function tooSoftBefore({ start }: PathBit): PathBit[] {
  const first = start - 2 * BIT_STEPS[0];
  return first < 0
    ? []
    : [unclear(0, first, first + BIT_STEPS[0] - REST_STEPS, first + BIT_STEPS[0])];
}

const unclear = (bit: 0 | 1, start: number, rest: number, end: number): PathBit => ({
  bit,
  start,
  rest,
  end,
  margin: 0,
  other: bit === 1 ? 0 : 1,
  fit: 0,
});

/** Is it no noise? */
function isHeard({ margin, fit }: PathBit): boolean {
  return margin >= HEARD_MARGIN && fit >= HEARD_FIT;
}

function loudest(strength: Float32Array, from: number, to: number): number {
  return strength.subarray(from, to).reduce((most, one) => Math.max(most, one), 0);
}
