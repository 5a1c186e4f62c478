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

/** What a statement needs, and what stood there before it. */
interface Begun {
  readonly cost: StepCost;
  readonly work: ReturnType<typeof workOfStatement>;
  readonly printed: number;
  readonly variables: number;
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

/** Of each line its fullest moment, by the index of its step; undefined where none was come to. */
export type FullestOfLines = readonly (Fullest | undefined)[];

/** The fullest of all lines. */
export function fullestOf(lines: FullestOfLines): Fullest {
  return lines.reduce<Fullest>((a, b) => (b !== undefined && b.bytes > a.bytes ? b : a), EMPTY);
}

/** Where two analyses hold, each line is no fuller than the lesser says. */
export function lesserOf(a: FullestOfLines, b: FullestOfLines): FullestOfLines {
  return a.map((one, index) => {
    const other = b[index];
    return one === undefined || other === undefined
      ? undefined
      : one.bytes <= other.bytes
        ? one
        : other;
  });
}

/** The fullest of the moments that are noted. `depth`: GOSUBs within one another. */
export class Moments {
  readonly together: (Fullest | undefined)[];
  /** The same without the display. */
  readonly besides: (Fullest | undefined)[];

  constructor(lines: number) {
    this.together = new Array(lines).fill(undefined);
    this.besides = new Array(lines).fill(undefined);
  }

  /** Something is worked out. */
  working(step: Step, depth: number, state: State, cost: StepCost): void {
    this.keep(step, {
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
  done(step: Step, depth: number, state: State, strings: number): void {
    const report = strings < REPORT_SIZE ? REPORT_SIZE : 0;
    this.keep(step, {
      display: state.printed + report,
      variables: state.variablesSize,
      workspace: report > 0 ? 0 : strings,
      'calculator stack': 0,
      'machine stack': 0,
      'GOSUB stack': depth * GOSUB_SIZE,
    });
  }

  /** A statement other than PRINT is about to be carried out; strings stand in the workspace from its conditions. */
  begin(step: Step, depth: number, before: State, strings: number): Begun {
    const found = statementCost(step, before);
    const cost = { ...found, strings: strings + found.strings };
    this.working(step, depth, before, cost);
    const work = workOfStatement(step, before);
    return { cost, work, printed: before.printed, variables: before.variablesSize };
  }

  /** It is carried out. */
  end(step: Step, depth: number, { cost, work, printed, variables }: Begun, after: State): void {
    const { statement } = step;
    const newString =
      statement?.kind === 'LET' &&
      statement.target.type === 'string' &&
      statement.target.kind === 'variable';
    const taken = newString || TAKE_ALL.has(statement?.kind);
    this.keep(step, {
      display:
        Math.max(printed, after.printed) +
        work.display +
        (statement?.kind === 'SCROLL' ? SCROLL_SIZE : 0),
      // The old string stands until the new one does (LET 13CE): that is counted as work.
      variables: newString ? variables : Math.max(variables, after.variablesSize),
      workspace: cost.strings + work.workspace,
      'calculator stack': taken ? 0 : cost.values * STACKED_SIZE,
      'machine stack': 0,
      'GOSUB stack':
        depth * GOSUB_SIZE + (statement?.kind === 'GOSUB' ? GOSUB_SIZE + GOSUB_MARGIN : 0),
    });
    this.done(step, depth, after, cost.strings);
  }

  private keep({ index, line }: Step, areas: AreasOfCourse): void {
    const { display, variables, workspace } = areas;
    const besides =
      variables +
      workspace +
      areas['calculator stack'] +
      areas['machine stack'] +
      areas['GOSUB stack'];
    const bytes = besides + display;
    if (bytes > (this.together[index]?.bytes ?? -1)) this.together[index] = { bytes, line, areas };
    if (besides > (this.besides[index]?.bytes ?? -1)) {
      this.besides[index] = { bytes: besides, line, areas };
    }
  }
}
