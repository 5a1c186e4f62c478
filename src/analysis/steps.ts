/** The program laid flat: one step a line, and every expression of it in one list. */
import type {
  Expression,
  IfStatement,
  Line,
  Listing,
  PrintItem,
  Range,
  Statement,
  Subscripted,
  Variable,
} from '../../grammar/tree.js';

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

function ownExpressions(statement: NonNullable<Step['statement']>): readonly Expression[] {
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
    case 'LPRINT': {
      const found: Expression[] = [];
      for (const item of statement.items) pushItem(item, found);
      return found;
    }
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

function pushItem(item: PrintItem, found: Expression[]): void {
  if (item.kind === 'AT') found.push(item.row, item.column);
  else if (item.kind === 'TAB') found.push(item.column);
  else if (item.kind !== 'separator') found.push(item);
}

/** The parts of an expression, in the order of the text. */
export function partsOf(node: Expression): readonly Expression[] {
  switch (node.kind) {
    case 'number':
    case 'string':
    case 'variable':
    case 'constant':
      return NONE;
    case 'brackets':
      return [node.inner];
    case 'unary':
      return [node.operand];
    case 'call':
      return [node.argument];
    case 'binary':
      return [node.left, node.right];
    case 'subscripted':
      return [node.base, ...node.subscripts.flatMap(endsOf)];
  }
}

function endsOf(subscript: Expression | Range): Expression[] {
  if (subscript.kind !== 'range') return [subscript];
  return [subscript.from, subscript.to].filter((end) => end !== undefined);
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

/** The variable at the base of a target or of a subscripted expression, if it is one. */
export function baseVariable(node: Expression): Variable | undefined {
  let base = node;
  while (base.kind === 'subscripted') base = base.base;
  return base.kind === 'variable' ? base : undefined;
}

/** An expression without the brackets around it. */
export function withoutBrackets(node: Expression): Expression {
  let inner = node;
  while (inner.kind === 'brackets') inner = inner.inner;
  return inner;
}
