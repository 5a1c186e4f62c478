/** The variables that a program makes, and how many bytes each takes: at least, and at most. */
import type { Line } from '../../grammar/tree.js';
import { TYPED_LENGTH } from '../analysis/expression-ranges.js';
import type { NamedVariable, Setting } from '../analysis/names.js';
import type { Program } from '../analysis/program.js';
import { wholeOf } from '../machine/arithmetic/operations.js';
import {
  arraySize,
  elementSize,
  encodeVariable,
  FOR_VARIABLE_SIZE,
  LARGEST_DIMENSION,
  numberVariableSize,
  type SavedVariable,
  sharedName,
  stringVariableSize,
} from '../machine/variables.js';

/** Bytes that something takes. */
export interface Bounds {
  readonly low: number;
  /** Infinity where nothing in the listing bounds it. */
  readonly high: number;
  /** Number of the line that makes it, or that makes it so large. */
  readonly line?: number;
  /** Why low and high differ. */
  readonly why?: string;
}

export const gap = ({ low, high }: Bounds): number => high - low;

/** No line makes what was saved with the program. */
export interface VariableBudget extends Bounds {
  /** `A`, `SCORE`, `A$`; `A()` is an array of numbers. */
  readonly name: string;
}

/** The budget of every variable, in the order in which the listing first makes them. */
export function variableBudgets(program: Program): VariableBudget[] {
  const saved = new Map(program.saved.map((variable) => [sharedName(variable), variable]));
  const budgets: VariableBudget[] = [];
  for (const [name, variable] of saved) {
    if (!program.names.all.has(name)) budgets.push(savedBudget(name, variable, program));
  }
  for (const variable of program.names.all.values()) {
    const found = budgetOfVariable(variable, program, saved.get(variable.name));
    if (found !== undefined) budgets.push(found);
  }
  return budgets;
}

/** RUN clears what was saved; a program that runs itself, or is begun by GOTO, keeps it. */
function savedBudget(name: string, variable: SavedVariable, program: Program): VariableBudget {
  const size = encodeVariable(variable).length;
  if (program.runsItself) return { name, low: size, high: size };
  return { name, low: 0, high: size, why: 'saved with the program: RUN clears it, GOTO keeps it' };
}

function budgetOfVariable(
  variable: NamedVariable,
  program: Program,
  saved: SavedVariable | undefined,
): VariableBudget | undefined {
  const first = saved && savedBudget(variable.name, saved, program);
  let low = Infinity;
  let high = first?.high ?? 0;
  let sure = false;
  let cause: { line: Line; why?: string } | undefined;
  for (const setting of variable.settings) {
    if (!program.flow.reachable[setting.step.index] || !makes(setting)) continue;
    const sizes = settingSizes(setting, program);
    const surely = program.sure[setting.step.index] && setting.step.conditions.length === 0;
    sure ||= surely;
    // Whatever was assigned last stays: only the smallest is certain.
    low = Math.min(low, sizes.low);
    if (sizes.high > high || cause === undefined)
      cause = { line: setting.step.line, why: sizes.why };
    high = Math.max(high, sizes.high);
  }
  if (cause === undefined) return first;
  const isFor = variable.settings.some((setting) => isSureFor(setting, program));
  if (isFor) low = FOR_VARIABLE_SIZE;
  if (!sure) low = first?.low ?? 0;
  return {
    name: variable.name,
    low,
    high,
    line: cause.line.number,
    why: low === high ? undefined : (cause.why ?? whyDifferent(sure)),
  };
}

function whyDifferent(sure: boolean): string {
  return sure ? 'it is set to strings of different lengths' : 'not every run comes to it';
}

/** NEXT makes no variable, nor does setting an element or a slice. */
function makes({ kind, target }: Setting): boolean {
  return kind !== 'NEXT' && target.kind === 'variable';
}

/** Once a FOR has made a variable of 18 bytes it stays so. */
function isSureFor({ kind, step }: Setting, program: Program): boolean {
  return kind === 'FOR' && program.sure[step.index] && step.conditions.length === 0;
}

function settingSizes({ kind, step, target }: Setting, program: Program): Bounds {
  const { statement } = step;
  if (kind === 'FOR') return { low: FOR_VARIABLE_SIZE, high: FOR_VARIABLE_SIZE };
  if (statement?.kind === 'DIM') return arraySizes(statement, program);
  if (target.type === 'number' && target.kind === 'variable') {
    const size = numberVariableSize(target.name);
    return { low: size, high: size };
  }
  return stringSizes(step, program);
}

function arraySizes(
  statement: {
    target: { type: 'number' | 'string' };
    sizes: readonly Parameters<Program['ranges']['number']>[0][];
  },
  { ranges }: Program,
): Bounds {
  const element = elementSize(statement.target.type);
  const found = statement.sizes.map((size) => ranges.number(size));
  const low = arraySize(
    found.map(({ low }) => dimensionOf(low)),
    element,
  );
  const high = arraySize(
    found.map(({ high }) => dimensionOf(high)),
    element,
  );
  return { low, high, why: low === high ? undefined : 'only the run tells how large DIM makes it' };
}

/** A size that DIM takes: with any other the machine stops, and makes no array. */
function dimensionOf(size: number): number {
  const whole = Math.max(1, wholeOf(size));
  return Number.isFinite(size) ? Math.min(whole, LARGEST_DIMENSION) : whole;
}

function stringSizes({ statement }: Setting['step'], { ranges }: Program): Bounds {
  if (statement?.kind !== 'LET') {
    return {
      low: stringVariableSize(0),
      high: stringVariableSize(TYPED_LENGTH),
      why: `INPUT: taken to be at most ${TYPED_LENGTH} characters`,
    };
  }
  const length = ranges.length(statement.value);
  const why =
    length.high === Infinity
      ? 'nothing in the listing bounds how long it grows'
      : 'its length depends on the run';
  return {
    low: stringVariableSize(length.low),
    high: stringVariableSize(length.high),
    why: length.low === length.high ? undefined : why,
  };
}
