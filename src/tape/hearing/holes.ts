/**
 * Holes in the tape: places where it gives nothing for a time, in the middle of a program. What is quiet
 * there is no rest, and taken for one it would speak for the wrong bits.
 *
 * The bits go on under a hole. One rest is as long as the other, so quiet of another length is a hole, or
 * holds one. Between the last bit that begins clearly before it and the first after it there is time for
 * so many zeros and ones only; of all their orders, those are left that have no pulses where the tape
 * is quiet in the length of a rest, and none but quiet where a pulse is heard. If only one is left, its
 * bits are as good as heard.
 */
import type { PathBit } from './bit-path.js';
import { STEPS_A_SECOND } from './carrier.js';
import {
  type HoleBit,
  LONGEST_STRETCH,
  NEAR_START,
  REST_OFF,
  runsOf,
  Stretch,
  usualRest,
  type Work,
} from './hole-stretch.js';
import type { PulseLevels } from './pulse-levels.js';

/** Steps of the longest hole that is bridged here, with the rests beside it. */
const LONGEST_HOLE = 0.028 * STEPS_A_SECOND;
/** A quiet of fewer steps between pulses may be what is left of a rest, where the tape was cut. */
const SHORTEST_HOLE = 5;
/** Of so many bits before a hole, and after it, so many fit well and are clear: else it is noise. */
const LOOKED_AT = 7;
const GOOD = 4;
/** Seconds within which these are. */
const NEAR = 0.012;
const GOOD_FIT = 0.8;
const GOOD_MARGIN = 15;
/** A bit with such a margin and such a fit is clear without a look at what else there may be. */
const CLEAR_MARGIN = 30;
const CLEAR_FIT = 0.6;
/** The margin that is left of a bit with something in it that is no hole: it is in doubt. */
const UNCLEAR_MARGIN = 10;
/** Orders that are gone through for all holes in one block. */
const MOST_IN_BLOCK = 400_000;

/**
 * The bits again, with those that lie under holes and beside them as the time and all that is heard
 * there leave them. Where that does not tell, they stay as they are.
 */
export function underHoles(
  levels: PulseLevels,
  heard: readonly PathBit[],
  from: number,
  to: number,
): readonly (PathBit | HoleBit)[] {
  const { soft, speed } = levels;
  let bits = heard;
  const runs = runsOf((step) => soft[step] > 0, from, to);
  const length = (run: number) => ((runs[run + 1] ?? to) - runs[run]) * speed[runs[run]];
  const quietRuns = runs.map((_, run) => run).filter((run) => (run & 1) === 0);
  const rest = usualRest(quietRuns.map(length));
  if (rest === undefined) return bits;
  const odd = stretchesOf(runs, (run) => Math.abs(length(run) - rest) > REST_OFF, bits);
  const result: (PathBit | HoleBit)[] = [];
  const work: Work = { left: MOST_IN_BLOCK };
  let next = 0;
  for (const gap of withUnclear(odd, bits)) {
    let { start, end } = gap;
    let before = next;
    while (before < bits.length && bits[before].end <= start + NEAR_START) before++;
    let after = before;
    while (after < bits.length && bits[after].start < end - NEAR_START) after++;
    // What is unclear beside it belongs to it.
    while (before > next && !isClear(bits[before - 1])) start = bits[--before].start;
    while (after < bits.length - 1 && !isClear(bits[after])) end = bits[++after].start;
    // What was bridged already may have taken the beginning of this one.
    const isTaken = next > 0 && !(start >= bits[next]?.start - NEAR_START);
    if (isTaken || end - start > LONGEST_STRETCH) continue;
    if (areClear(bits, before, after)) continue;
    const sides = goodBitsAround(bits, before, after, start, end, gap.quiet > 0 ? to : end);
    const own = sides && new Stretch(levels, sides, start, end, work).bits();
    if (own === undefined) continue;
    if (own === 'unlike' || (gap.quiet > 0 && gap.quiet < SHORTEST_HOLE)) {
      result.push(...bits.slice(next, before), ...bits.slice(before, after).map(unclear));
      next = after;
      continue;
    }
    result.push(...bits.slice(next, before), ...own);
    next = after;
    bits = joinedTo(result, result.length - own.length, bits, after);
  }
  result.push(...bits.slice(next));
  return result;
}

/** The bits beside a hole reach to it: the path may have drawn them towards it. */
function joinedTo(
  row: PathBit[],
  first: number,
  bits: readonly PathBit[],
  after: number,
): readonly PathBit[] {
  const isNear = (a: number, b: number) => Math.abs(a - b) <= NEAR_START;
  const before = row[first - 1];
  if (before && isNear(before.end, row[first].start)) {
    row[first - 1] = { ...before, end: row[first].start };
  }
  const { end } = row[row.length - 1];
  if (!bits[after] || !isNear(bits[after].start, end)) return bits;
  return bits.with(after, { ...bits[after], start: end });
}

/** Steps between two at which a bit begins, with a hole between them, or something else that is unclear. */
interface Gap {
  readonly start: number;
  readonly end: number;
  /** Steps of the longest quiet of odd length in it; 0 if it has none. */
  readonly quiet: number;
}

/** From one run of pulses that begins a bit to another, with holes between them. */
function stretchesOf(
  starts: readonly number[],
  odd: (run: number) => boolean,
  bits: readonly PathBit[],
): Gap[] {
  const gaps: Gap[] = [];
  for (let run = 2; run < starts.length - 2; run += 2) {
    if (!odd(run)) continue;
    const first = run - 1;
    let isHole = true;
    let quiet = 0;
    while (run < starts.length - 2 && odd(run)) {
      quiet = Math.max(quiet, starts[run + 1] - starts[run]);
      if (starts[run + 1] - starts[run] > LONGEST_HOLE) isHole = false;
      // The pulses after a hole may be a bit's last ones; those after the next rest are not.
      run += 2;
    }
    const last = run + 1;
    if (last >= starts.length || odd(run)) break;
    if (isHole) gaps.push({ start: starts[first], end: starts[last], quiet });
  }
  // Between two holes there may be too little for each to be judged alone.
  const joined: Gap[] = [];
  for (const gap of gaps) {
    const last = joined[joined.length - 1];
    const between = last && bits.filter(({ start, end }) => start >= last.end && end <= gap.start);
    if (last && between!.length <= LOOKED_AT && gap.end - last.start <= LONGEST_STRETCH) {
      joined[joined.length - 1] = {
        ...last,
        end: gap.end,
        quiet: Math.max(last.quiet, gap.quiet),
      };
    } else joined.push(gap);
  }
  return joined.filter(({ start, end }) => end - start <= LONGEST_STRETCH);
}

/** These, and between them what is unclear without a quiet of odd length: a hole can look like a rest. */
function withUnclear(gaps: readonly Gap[], bits: readonly PathBit[]): Gap[] {
  const all = [...gaps];
  for (let i = 1; i < bits.length - 1; i++) {
    if (isClear(bits[i])) continue;
    const first = i;
    while (i < bits.length - 2 && !isClear(bits[i + 1])) i++;
    const [start, end] = [bits[first].start, bits[i].end];
    const isOther = gaps.every((gap) => gap.end <= start || gap.start >= end);
    if (isOther && end - start <= LONGEST_STRETCH) all.push({ start, end, quiet: 0 });
  }
  return all.sort((a, b) => a.start - b.start);
}

const unclear = (bit: PathBit): PathBit => ({
  ...bit,
  margin: Math.min(bit.margin, UNCLEAR_MARGIN),
});

function isClear({ margin, fit }: PathBit): boolean {
  return margin >= CLEAR_MARGIN && fit >= CLEAR_FIT;
}

/** Are these bits clear as they are, without a gap between them? Then there is no hole that matters. */
function areClear(bits: readonly PathBit[], before: number, after: number): boolean {
  for (let i = before; i <= after; i++) {
    if (i > 0 && !follows(bits, i)) return false;
    if (i < after && !isClear(bits[i])) return false;
  }
  return true;
}

/**
 * The good bits on each side of a stretch, without a gap between them, if there are such as no noise gives.
 * @param to step up to which was heard, where the last bits of all may be few; `end` where they may not
 */
function goodBitsAround(
  bits: readonly PathBit[],
  before: number,
  after: number,
  start: number,
  end: number,
  to: number,
): PathBit[][] | undefined {
  const isGood = ({ fit, margin }: PathBit) => fit >= GOOD_FIT && margin >= GOOD_MARGIN;
  const near = NEAR * STEPS_A_SECOND;
  // What stands right beside the hole may be drawn towards it.
  let first = before - 1;
  while (first >= 0 && !isGood(bits[first])) first--;
  let last = first;
  while (last > 0 && first - last < LOOKED_AT && follows(bits, last) && isGood(bits[last - 1]))
    last--;
  const left = bits.slice(Math.max(0, last), first + 1);
  first = after;
  while (first < bits.length && !isGood(bits[first])) first++;
  last = first + 1;
  while (last - first < LOOKED_AT && follows(bits, last) && isGood(bits[last])) last++;
  if (left.length < GOOD || start - left[left.length - 1].end >= near) return undefined;
  const right = bits.slice(first, last);
  if (right.length >= GOOD && right[0].start - end < near) return [left, right];
  // The last of all bits may be few, and could each be another one as long as nothing follows.
  const quiet = to - (bits.at(-1)?.end ?? to);
  if (bits.length - after > LOOKED_AT || quiet < 2 * near) return undefined;
  const ends = bits.slice(after).filter(({ fit }) => fit >= GOOD_FIT);
  return ends.length > 0 ? [left, ends] : undefined;
}

/** Does this bit begin where the one before it ends? */
function follows(bits: readonly PathBit[], index: number): boolean {
  return index > 0 && index < bits.length && bits[index].start === bits[index - 1].end;
}
