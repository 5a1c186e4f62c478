/**
 * What of a statement disagrees with the program: a jump to no line, subscripts that no DIM has,
 * fractions and sizes where they make no sense. The cost of each is in the measure of the cost of a
 * change.
 */

import { isComparison } from '../../../grammar/operators.js';
import type { Expression, Statement, Variable } from '../../../grammar/tree.js';
import { type Node, type NodeOfKind, visit } from '../../../grammar/visit.js';
import { PLOT_COLUMNS, PLOT_ROWS } from '../../machine/memory-map.js';
import type { ProgramNames } from './program.js';

export interface Oddity {
  readonly cost: number;
  /** What is odd, as a clause: `there is no line 200`. */
  readonly what: string;
}

export function disagreement(statement: Statement, names: ProgramNames): number {
  return odditiesOf(statement, names).reduce((sum, { cost }) => sum + cost, 0);
}

export function odditiesOf(statement: Statement, names: ProgramNames): Oddity[] {
  const found: Oddity[] = [];
  const add: Add = (cost, what) => {
    if (cost > 0) found.push({ cost, what });
  };
  visit(statement, (node) => {
    const check = BY_KIND[node.kind] as Check<never> | undefined;
    check?.(node as never, add, names);
  });
  return found;
}

type Add = (cost: number, what: string) => void;
type Check<Kind extends Node['kind']> = (
  node: NodeOfKind<Kind>,
  add: Add,
  names: ProgramNames,
) => void;

const jump: Check<'GOTO' | 'GOSUB'> = ({ args: [target] }, add, names) => {
  if (target.kind === 'number' && !names.numbers.has(target.value))
    add(3, `there is no line ${target.value}`);
  if (target.kind === 'variable') add(1, 'a jump to a variable is rare');
};

const plotted: Check<'PLOT' | 'UNPLOT'> = ({ args: [x, y] }, add) => {
  whole(x, PLOT_COLUMNS - 1, add);
  whole(y, PLOT_ROWS - 1, add);
};

const printed: Check<'PRINT' | 'LPRINT'> = ({ items }, add) => {
  // `PRINT 1.5` stands in few programs: a comma between two whole numbers is as likely.
  for (const item of items) {
    if (item.kind !== 'number' || !/^\d+\.\d+$/.test(item.text)) continue;
    add(2, `few programs print ${item.text}`);
    return;
  }
};

const BY_KIND: { readonly [Kind in Node['kind']]?: Check<Kind> } = {
  GOTO: jump,
  GOSUB: jump,
  subscripted: ({ base, subscripts }, add, names) => {
    for (const subscript of subscripts) {
      if (subscript.kind !== 'number') continue;
      if (!Number.isInteger(subscript.value)) add(4.5, FRACTION);
      if (subscript.value === 0) add(2, 'there is no subscript 0');
    }
    if (base.kind === 'variable') dimensions(base, subscripts.length, add, names);
  },
  AT: ({ row, column }, add) => {
    whole(row, 21, add);
    whole(column, 31, add);
  },
  PLOT: plotted,
  UNPLOT: plotted,
  TAB: ({ column }, add) => whole(column, 65535, add),
  POKE: ({ args }, add) => whole(args[1], 255, add),
  NEXT: ({ variable }, add, names) => {
    if (!names.loops.has(variable.name)) add(3, `there is no FOR ${variable.name}`);
  },
  DIM: ({ sizes }, add) => {
    // A size is never a fraction: it is a comma that was misprinted.
    for (const size of sizes) whole(size, 65535, (cost, what) => add(cost + 2, what));
  },
  binary: ({ operator, left, right }, add) => {
    // `8=2048`, `3*1`, `G>G`: what nobody needs to work out.
    const compares = isComparison(operator);
    if (left.kind === 'variable' && right.kind === 'variable' && left.name === right.name) {
      if (compares || operator === '-') add(3, `${left.name}${operator}${right.name} says nothing`);
    } else if (left.kind === 'number' && right.kind === 'number') {
      add(compares ? 6 : 2, `${left.text}${operator}${right.text} needs no working out`);
    }
  },
  FOR: ({ variable, from, to }, add) => {
    // `FOR I=I TO 9`, `FOR I=1 TO I`: a limit that is the loop's own variable.
    const own = (limit: Expression): boolean =>
      limit.kind === 'variable' && limit.name === variable.name;
    if (own(from) || own(to)) add(3, 'a loop has no limit that is its own variable');
  },
  PRINT: printed,
  LPRINT: printed,
};

const FRACTION = 'a place or a size is no fraction';

function whole(value: Expression, most: number, add: Add): void {
  if (value.kind !== 'number') return;
  const fraction = !Number.isInteger(value.value);
  const cost = (fraction ? 4.5 : 0) + (value.value > most ? 2 : 0);
  if (cost > 0) add(cost, fraction ? FRACTION : `${value.text} is more than ${most}`);
}

function dimensions(base: Variable, count: number, add: Add, names: ProgramNames): void {
  const isNumber = base.type === 'number';
  const sizes = names.dimensions.get(isNumber ? `${base.name}(` : base.name);
  if (sizes === undefined) {
    if (isNumber) add(1, `no DIM has ${base.name}`);
    return;
  }
  // A string array may be given one subscript less, or one more for a slice.
  const more = isNumber ? [0] : [0, -1, 1];
  if (![...sizes].some((size) => more.some((one) => size + one === count)))
    add(4, `the DIM of ${base.name} has another number of subscripts`);
}
