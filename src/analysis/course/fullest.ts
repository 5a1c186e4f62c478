/** The fullest moment of a course: what stands in memory at the same time. */
import type { Line } from '../../../grammar/tree.js';
import { STACKED_SIZE } from '../../machine/calculator-stack.js';
import { type AreaName, GOSUB_SIZE, REPORT_SIZE } from '../../machine/memory-map.js';
import { type StepCost, statementCost, workOfStatement } from '../expression-cost.js';
import type { Step } from '../steps.js';
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

/** Before the memory grows these have taken all that was worked out from the calculator stack. */
const TAKE_ALL = new Set<string | undefined>(['PLOT', 'UNPLOT', 'DIM', 'GOSUB']);

/** The fullest of the moments that are noted. `depth`: GOSUBs within one another. */
export class Moments {
  together = EMPTY;
  /** The same without the display. */
  besides = EMPTY;

  /** Something is worked out. */
  working({ line }: Step, depth: number, state: State, cost: StepCost): void {
    this.keep(line, {
      display: state.printed,
      variables: state.variablesSize,
      workspace: cost.strings,
      'calculator stack': cost.values * STACKED_SIZE,
      'machine stack': cost.nesting,
      'GOSUB stack': depth * GOSUB_SIZE,
    });
  }

  /**
   * A statement was carried out; strings stay in the workspace until then. Or the run ends here: then
   * the workspace is given up before the report is shown (SET-MIN 14BC).
   */
  done({ line }: Step, depth: number, state: State, strings: number): void {
    const report = strings < REPORT_SIZE ? REPORT_SIZE : 0;
    this.keep(line, {
      display: state.printed + report,
      variables: state.variablesSize,
      workspace: report > 0 ? 0 : strings,
      'calculator stack': 0,
      'machine stack': 0,
      'GOSUB stack': depth * GOSUB_SIZE,
    });
  }

  /** A statement is carried out, other than PRINT; strings stand in the workspace from its conditions. */
  note(step: Step, depth: number, before: State, after: State, strings: number): void {
    const { statement } = step;
    const found = statementCost(step, before);
    const cost = { ...found, strings: strings + found.strings };
    this.working(step, depth, before, cost);
    const { workspace, display: typed } = workOfStatement(step, before);
    const newString =
      statement?.kind === 'LET' &&
      statement.target.type === 'string' &&
      statement.target.kind === 'variable';
    // The old string stands until the new one does (LET 13CE): that is counted as work.
    const variables = newString
      ? before.variablesSize
      : Math.max(before.variablesSize, after.variablesSize);
    const taken = newString || TAKE_ALL.has(statement?.kind);
    const { printed } = before;
    this.keep(step.line, {
      display:
        Math.max(printed, after.printed) + typed + (statement?.kind === 'SCROLL' ? SCROLL_SIZE : 0),
      variables,
      workspace: cost.strings + workspace,
      'calculator stack': taken ? 0 : cost.values * STACKED_SIZE,
      'machine stack': 0,
      'GOSUB stack':
        depth * GOSUB_SIZE + (statement?.kind === 'GOSUB' ? GOSUB_SIZE + GOSUB_MARGIN : 0),
    });
    this.done(step, depth, after, cost.strings);
  }

  private keep(line: Line, areas: AreasOfCourse): void {
    const bytes = Object.values(areas).reduce((total, size) => total + size, 0);
    if (bytes > this.together.bytes) this.together = { bytes, line, areas };
    const besides = bytes - areas.display;
    if (besides > this.besides.bytes) this.besides = { bytes: besides, line, areas };
  }
}
