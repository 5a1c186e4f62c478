/** Expressions that always give the same number, as short programs write line numbers: NOT PI. */
import type { BinaryOperator, Expression } from '../../grammar/tree.js';
import { numberOfDecimal } from '../machine/arithmetic/decimal.js';
import { PI } from '../machine/arithmetic/functions.js';
import { add, divide, multiply, subtract } from '../machine/arithmetic/operations.js';
import { textOfCodes } from '../machine/characters.js';

/**
 * The number that an expression gives whenever it is worked out, or undefined where that hangs on
 * anything else, or where this does not work it out. Numbers are the machine's own.
 */
export function constantOf(expression: Expression): number | undefined {
  switch (expression.kind) {
    case 'number':
      return expression.stored === 'nothing' ? undefined : expression.value;
    case 'constant':
      return expression.name === 'PI' ? PI : undefined;
    case 'brackets':
      return constantOf(expression.inner);
    case 'unary': {
      const value = constantOf(expression.operand);
      if (value === undefined) return undefined;
      return expression.operator === 'NOT' ? Number(value === 0) : 0 - value;
    }
    case 'binary':
      return arithmetic(
        expression.operator,
        constantOf(expression.left),
        constantOf(expression.right),
      );
    case 'call':
      return called(expression.function, expression.argument);
  }
  return undefined;
}

const OPERATIONS: Partial<Record<BinaryOperator, (a: number, b: number) => number>> = {
  '+': add,
  '-': subtract,
  '*': multiply,
  '/': divide,
};

function arithmetic(
  operator: BinaryOperator,
  left: number | undefined,
  right: number | undefined,
): number | undefined {
  if (left === undefined || right === undefined) return undefined;
  const value = OPERATIONS[operator]?.(left, right) ?? Number.NaN;
  return Number.isNaN(value) ? undefined : value;
}

function called(name: string, argument: Expression): number | undefined {
  if (argument.kind === 'brackets') return called(name, argument.inner);
  if (argument.kind === 'string') {
    if (name === 'CODE') return argument.codes[0] ?? 0;
    if (name !== 'VAL') return undefined;
    const text = textOfCodes(argument.codes);
    const value = /^(?:\d+\.?\d*|\.\d+)(?:E[+-]?\d+)?$/.test(text) ? numberOfDecimal(text) : NaN;
    return Number.isNaN(value) ? undefined : value;
  }
  const value = constantOf(argument);
  if (value === undefined) return undefined;
  if (name === 'INT') return Math.floor(value);
  if (name === 'SGN') return Math.sign(value);
  return name === 'ABS' ? Math.abs(value) : undefined;
}
