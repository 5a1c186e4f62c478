/**
 * When each bit begins, more finely than in steps: where its first pulse is half as loud as it becomes.
 * On a clean recording that is right to some three microseconds; a step is 83.
 */
import type { PathBit } from './bit-path.js';
import { type HoleBit, isUnder } from './hole-stretch.js';
import type { PulseLevels } from './pulse-levels.js';

/** Steps from where the path has a bit begin within which its first pulse rises. */
const NEAR = 3;
/** Part of a step to which that is rounded, so that the same edge is the same in every block. */
const GRAIN = 1 / 256;
/** Steps by which the path has bits begin later than that, more or less. */
const LATE = 0.9;

/**
 * The step, and the part of one, at which each of these bits begins. What lies under a hole, and what no
 * pulse begins, begins where the path has it.
 */
export function edgesOf(bits: readonly (PathBit | HoleBit)[], levels: PulseLevels): Float64Array {
  const edges = new Float64Array(bits.length);
  for (let i = 0; i < bits.length; i++) {
    const { start } = bits[i];
    const isHidden = isUnder(bits[i]) && isUnder(bits[i - 1]) && bits[i - 1].end === start;
    const edge = isHidden ? undefined : riseNear(start, levels);
    edges[i] = edge === undefined ? start : Math.round((edge + LATE) / GRAIN) * GRAIN;
  }
  return edges;
}

/** Where the strength rises through the middle between a rest and a pulse, nearest to this step. */
function riseNear(step: number, { strength, high, low }: PulseLevels): number | undefined {
  const half = (high[step] + low[step]) / 2;
  let best: number | undefined;
  for (let at = step - NEAR; at <= step + NEAR; at++) {
    const [before, after] = [strength[at - 1], strength[at]];
    if (!(before < half && after >= half)) continue;
    const edge = at - (after - half) / (after - before);
    if (best === undefined || Math.abs(edge - step) < Math.abs(best - step)) best = edge;
  }
  return best;
}
