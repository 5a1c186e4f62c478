/**
 * Lays two readings of the same bits beside each other, where either may have lost or doubled some.
 * The cheapest way to turn one into the other, within BAND bits of being in step.
 */
import type { TapeBit } from '../hearing/bit-finder.js';

/** Bits by which the two may be out of step. */
const BAND = 96;
const WIDTH = 2 * BAND + 1;
/** What it costs that two bits differ, or that one has none to stand beside; more if they are sure. */
const DIFFER = 1;
const ALONE = 1.5;
const SURE = 2;

/** A bit of the first reading, of the second, or of both. */
export interface Pair {
  readonly first?: number;
  readonly second?: number;
}

export interface Alignment {
  readonly pairs: readonly Pair[];
  /** The part of the pairs that agrees, each weighed by how sure both of its bits are. */
  readonly agreement: number;
}

/** Aligns two rows of bits. If one is much longer, only as much of it as the other has. */
export function alignBits(all: readonly TapeBit[], allOther: readonly TapeBit[]): Alignment {
  const most = Math.min(all.length, allOther.length) + BAND - 1;
  const first = all.length > most ? all.slice(0, most - BAND + 1) : all;
  const second = allOther.length > most ? allOther.slice(0, most - BAND + 1) : allOther;
  const moves = cheapestMoves(first, second);
  const pairs: Pair[] = [];
  let [i, j] = [first.length, second.length];
  let [agreeing, sure] = [0, 0];
  while (i > 0 || j > 0) {
    const move = moves[i * WIDTH + (j - i + BAND)];
    if (move === BOTH) {
      i--;
      j--;
      const weight = Math.min(first[i].sure, second[j].sure);
      sure += weight;
      if (first[i].bit === second[j].bit) agreeing += weight;
      pairs.push({ first: i, second: j });
    } else if (move === FIRST_ALONE) pairs.push({ first: --i });
    else pairs.push({ second: --j });
  }
  pairs.reverse();
  return { pairs, agreement: agreeing / Math.max(1e-9, sure) };
}

const BOTH = 0;
const FIRST_ALONE = 1;
const SECOND_ALONE = 2;

/** For each place in the band, the last move of the cheapest way to it. */
function cheapestMoves(first: readonly TapeBit[], second: readonly TapeBit[]): Uint8Array {
  const moves = new Uint8Array((first.length + 1) * WIDTH);
  let before = new Float64Array(WIDTH).fill(Number.POSITIVE_INFINITY);
  let costs = new Float64Array(WIDTH);
  for (let i = 0; i <= first.length; i++) {
    costs.fill(Number.POSITIVE_INFINITY);
    for (let k = 0; k < WIDTH; k++) {
      const j = i + k - BAND;
      if (j < 0 || j > second.length) continue;
      if (i === 0 && j === 0) {
        costs[k] = 0;
        continue;
      }
      const a = first[i - 1];
      const b = second[j - 1];
      const both = i > 0 && j > 0 ? before[k] + pairCost(a, b) : Number.POSITIVE_INFINITY;
      const firstAlone =
        i > 0 && k + 1 < WIDTH ? before[k + 1] + ALONE + SURE * a.sure : Number.POSITIVE_INFINITY;
      const secondAlone =
        j > 0 && k > 0 ? costs[k - 1] + ALONE + SURE * b.sure : Number.POSITIVE_INFINITY;
      costs[k] = Math.min(both, firstAlone, secondAlone);
      const move = costs[k] === both ? BOTH : costs[k] === firstAlone ? FIRST_ALONE : SECOND_ALONE;
      moves[i * WIDTH + k] = move;
    }
    [before, costs] = [costs, before];
  }
  return moves;
}

function pairCost(a: TapeBit, b: TapeBit): number {
  return a.bit === b.bit ? 0 : DIFFER + SURE * Math.min(a.sure, b.sure);
}
