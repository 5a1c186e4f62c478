/** The fullest moment of a course: what stands in memory at the same time. */
import type { Line } from '../../../grammar/tree.js';
import { STACKED_SIZE } from '../../machine/calculator-stack.js';
import { type AreaName, GOSUB_SIZE } from '../../machine/memory-map.js';
import { stepCost, workOfStatement } from '../expression-cost.js';
import { expressionsOf, type Step } from '../steps.js';
import type { State } from './state.js';

/**
 * Bytes at one moment of what depends on the course: the display's beyond a clear one, the machine
 * stack's beyond its own share.
 */
type AreasOfCourse = Readonly<
  Record<
    Extract<
      AreaName,
      'display' | 'variables' | 'workspace' | 'calculator stack' | 'machine stack' | 'GOSUB stack'
    >,
    number
  >
>;

/** The fullest moment, what stands in memory then, and the line that is run. */
export interface Fullest {
  readonly bytes: number;
  readonly areas: AreasOfCourse;
  readonly line?: Line;
}

/** GOSUB asks for this much more than it takes (the ROM). */
const GOSUB_MARGIN = 4;
/** SCROLL has the new row's end before the old row goes. */
const SCROLL_SIZE = 1;

const EMPTY: Fullest = {
  bytes: 0,
  areas: {
    display: 0,
    variables: 0,
    workspace: 0,
    'calculator stack': 0,
    'machine stack': 0,
    'GOSUB stack': 0,
  },
};

/** The fullest of the moments that are noted. */
export class Moments {
  together = EMPTY;
  /** The same without the display. */
  besides = EMPTY;

  /** A line is run, within so many GOSUBs. */
  note(step: Step, depth: number, before: State, after: State): void {
    const cost = stepCost(step, expressionsOf(step), before);
    const { workspace, display: typed } = workOfStatement(step, before);
    const kind = step.statement?.kind;
    const areas: AreasOfCourse = {
      display:
        Math.max(before.printed, after.printed) + typed + (kind === 'SCROLL' ? SCROLL_SIZE : 0),
      variables: Math.max(before.variablesSize, after.variablesSize),
      workspace: cost.strings + workspace,
      'calculator stack': cost.values * STACKED_SIZE,
      'machine stack': cost.nesting,
      'GOSUB stack': depth * GOSUB_SIZE + (kind === 'GOSUB' ? GOSUB_SIZE + GOSUB_MARGIN : 0),
    };
    const { line } = step;
    const bytes = Object.values(areas).reduce((total, size) => total + size, 0);
    if (bytes > this.together.bytes) this.together = { bytes, line, areas };
    const besides = bytes - areas.display;
    if (besides > this.besides.bytes) this.besides = { bytes: besides, line, areas };
  }
}
