/** What statements and expressions take whatever their values are: see `machine/timing.ts`. */

import { isComparison } from '../../../grammar/operators.js';
import type { Expression, Range, Statement } from '../../../grammar/tree.js';
import {
  ASSIGNMENT,
  BRACKET,
  CHARACTER_READ,
  COMPARISON,
  FOR_STEPS,
  FUNCTION_TIMES,
  LITERAL,
  NEXT_STEPS,
  OPERATOR,
  STATEMENT,
  SUBSCRIPT,
  THEN,
  VARIABLE,
  WHOLE_NUMBER,
} from '../../machine/timing.js';

/** T-states of an expression, without what hangs on values and on where variables stand. */
export function expressionCost(node: Expression | Range): number {
  switch (node.kind) {
    case 'number':
      return LITERAL + CHARACTER_READ * node.text.length;
    case 'string':
      return LITERAL + CHARACTER_READ * node.size;
    case 'variable':
      return VARIABLE + CHARACTER_READ * node.name.length;
    case 'constant':
      return OPERATOR + (FUNCTION_TIMES[node.name] ?? 0);
    case 'brackets':
      return BRACKET + expressionCost(node.inner);
    case 'unary':
      return OPERATOR + expressionCost(node.operand);
    case 'call':
      return OPERATOR + (FUNCTION_TIMES[node.function] ?? 0) + expressionCost(node.argument);
    case 'binary': {
      const own = isComparison(node.operator) ? COMPARISON : (FUNCTION_TIMES[node.operator] ?? 0);
      return OPERATOR + own + expressionCost(node.left) + expressionCost(node.right);
    }
    case 'range':
      return SUBSCRIPT + optional(node.from) + optional(node.to);
    case 'subscripted':
      return (
        expressionCost(node.base) +
        sum(node.subscripts.map((each) => SUBSCRIPT + expressionCost(each)))
      );
  }
}

const sum = (times: readonly number[]): number => times.reduce((total, time) => total + time, 0);
const optional = (node: Expression | undefined): number =>
  node === undefined ? 0 : expressionCost(node);

/** T-states of a statement; of IF, without what follows THEN. */
export function statementCost(statement: Statement): number {
  switch (statement.kind) {
    case 'LET':
      return STATEMENT + targetCost(statement.target) + expressionCost(statement.value);
    case 'INPUT':
      return STATEMENT + targetCost(statement.target);
    case 'FOR':
      return (
        STATEMENT +
        FOR_STEPS +
        ASSIGNMENT +
        sum([statement.from, statement.to].map(expressionCost)) +
        optional(statement.step)
      );
    case 'NEXT':
      return STATEMENT + VARIABLE + NEXT_STEPS;
    case 'IF':
      return STATEMENT + expressionCost(statement.condition);
    case 'DIM':
      return STATEMENT + sum(statement.sizes.map((size) => WHOLE_NUMBER + expressionCost(size)));
    case 'PRINT':
    case 'LPRINT':
      return (
        STATEMENT +
        sum(
          statement.items.map((item) => {
            if (item.kind === 'separator') return CHARACTER_READ;
            if (item.kind === 'AT') return sum([item.row, item.column].map(expressionCost));
            return expressionCost(item.kind === 'TAB' ? item.column : item);
          }),
        )
      );
    case 'REM':
    case 'unchecked':
      return STATEMENT;
    default:
      return STATEMENT + sum(statement.args.map((arg) => WHOLE_NUMBER + expressionCost(arg)));
  }
}

/** THEN and the statement behind it, where it is come to. */
export const thenCost = (statement: Statement): number =>
  THEN + statementCost(statement) - STATEMENT;

/** An array's element has its subscripts; a plain name is read as one. */
function targetCost(target: Expression): number {
  return ASSIGNMENT + (target.kind === 'subscripted' ? expressionCost(target) : 0);
}
