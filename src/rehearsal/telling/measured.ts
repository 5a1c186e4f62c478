/** What a rehearsal measured, in the terms of a budget: for `fit --rehearse`. */
import type { Listing } from '../../../grammar/tree.js';
import { GOSUB_SIZE } from '../../machine/memory-map.js';
import type { Rehearsal, RehearseOptions } from '../rehearsal.js';
import { rehearse } from '../run.js';
import type { AreaSizes, VariableSize } from '../state/areas.js';
import { outcomeOf } from './show.js';

/** Bounds that a budget can put in the place of its own. All sizes are bytes. */
export interface Measured {
  /** How it ended (see outcomeOf), and the line that ran last. */
  readonly outcome: string;
  readonly line: number;
  /** Why it ended, and what to do for it to go on, where there is something. */
  readonly why: string;
  readonly help?: string;
  /** Did it end for want of room: with report 4? */
  readonly full: boolean;
  /** Was the program seen to its end? Else what comes after may need more. */
  readonly whole: boolean;
  /** Numbers of the lines that were never run: what they need is not in these bounds. */
  readonly unrun: readonly number[];
  /** Numbers of the lines with an IF whose condition was never met. */
  readonly untaken: readonly number[];
  /** The fullest moment: bytes in use with those that are kept back, bytes left, the line, the areas. */
  readonly peak: {
    readonly bytes: number;
    readonly spare: number;
    readonly line: number;
    readonly areas: AreaSizes;
  };
  /** The most that each area had at any time; these need not have come together. */
  readonly largest: AreaSizes;
  /** The most that each variable had, by name: `A`, `N$`, `B()`, `C$()`. */
  readonly variables: ReadonlyMap<string, VariableSize>;
}

/** Ends of a rehearsal after which the program has been seen to its end. */
const SEEN_TO_THE_END = new Set(['done', 'stopped']);

/**
 * Rehearses a listing that was read without errors, and gives what its memory came to. Throws
 * RangeError for a listing that is larger than the RAM, as `rehearse` does.
 */
export function measure(listing: Listing, options: RehearseOptions = {}): Measured {
  return measuredOf(rehearse(listing, options));
}

/** What a rehearsal's memory came to. */
export function measuredOf(rehearsal: Rehearsal): Measured {
  const { deepestGosub, most, variables, unrun, untaken, line: last } = rehearsal;
  const { bytes, spare, line, sizes } = rehearsal.peak;
  const outcome = outcomeOf(rehearsal);
  return {
    outcome,
    line: last,
    why: rehearsal.end.why,
    help: rehearsal.end.help,
    full: rehearsal.end.code === '4',
    whole: SEEN_TO_THE_END.has(outcome),
    unrun,
    untaken,
    peak: { bytes, spare, line, areas: sizes },
    largest: { ...sizes, ...most, 'GOSUB stack': GOSUB_SIZE * deepestGosub },
    variables: new Map(variables.map((variable) => [variable.name, variable])),
  };
}
