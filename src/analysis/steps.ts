/** The program laid flat: one step a line, and every expression of it in one list. */
import type {
  Expression,
  IfStatement,
  Line,
  Listing,
  PrintItem,
  Statement,
  Subscripted,
  Variable,
} from '../../grammar/tree.js';
import { partsOf } from '../../grammar/visit.js';

/** What a line does, with the conditions that stand before it: IF a THEN IF b THEN … */
export interface Step {
  readonly line: Line;
  /** Position among the lines in stored order. */
  readonly index: number;
  readonly conditions: readonly Expression[];
  /** Undefined where the line was not understood: it may do anything. */
  readonly statement?: Exclude<Statement, IfStatement>;
}

/** An expression, what it is part of, and the step that it stands in. */
export interface Use {
  readonly node: Expression;
  /** Undefined where the expression stands in the statement itself. */
  readonly parent?: Use;
  readonly step: Step;
}

const NONE: readonly Expression[] = [];

/** The steps of a listing's lines, in stored order. */
export function stepsOf(listing: Listing): Step[] {
  return listing.lines.map((line, index) => {
    let conditions = NONE;
    let { statement } = line;
    while (statement?.kind === 'IF') {
      conditions = [...conditions, statement.condition];
      statement = statement.then;
    }
    return { line, index, conditions, statement };
  });
}

/** The expressions that stand directly in a step, those that it sets left out. */
export function expressionsOf({ conditions, statement }: Step): readonly Expression[] {
  const own = statement === undefined ? NONE : ownExpressions(statement);
  return conditions.length === 0 ? own : [...conditions, ...own];
}

/** Those of the statement alone, without its conditions. */
export function ownExpressions(statement: NonNullable<Step['statement']>): readonly Expression[] {
  switch (statement.kind) {
    case 'LET': {
      const { target, value } = statement;
      return isElement(target) ? [target, value] : [value];
    }
    case 'INPUT':
      return isElement(statement.target) ? [statement.target] : NONE;
    case 'DIM':
      return statement.sizes;
    case 'FOR': {
      const { from, to, step } = statement;
      return step === undefined ? [from, to] : [from, to, step];
    }
    case 'PRINT':
    case 'LPRINT':
      return statement.items.flatMap(expressionsOfItem);
    case 'NEXT':
    case 'REM':
    case 'unchecked':
      return NONE;
    default:
      return statement.args;
  }
}

/** An element that is set needs its array, and its subscripts are worked out. */
function isElement(target: Variable | Subscripted): target is Subscripted {
  return target.kind === 'subscripted';
}

/** What an item of PRINT works out. */
export function expressionsOfItem(item: PrintItem): readonly Expression[] {
  if (item.kind === 'AT') return [item.row, item.column];
  if (item.kind === 'TAB') return [item.column];
  return item.kind === 'separator' ? NONE : [item];
}

/** Every expression of the program, each before its parts. Takes time linear in the tree. */
export function usesOf(steps: readonly Step[]): Use[] {
  const uses: Use[] = [];
  const visit = (node: Expression, step: Step, parent?: Use): void => {
    const use = { node, parent, step };
    uses.push(use);
    for (const part of partsOf(node)) visit(part, step, use);
  };
  for (const step of steps) {
    for (const node of expressionsOf(step)) visit(node, step);
  }
  return uses;
}
