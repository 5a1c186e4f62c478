/** What expressions need of the calculator stack. */
import type { Expression, Range } from '../../grammar/tree.js';
import {
  VALUES_OF_DIGITS,
  VALUES_OF_POWER,
  valuesOfFunction,
} from '../machine/calculator-stack.js';

/** Values on the calculator stack at the deepest point of an expression; one may be none's. */
export function stackedValues(node: Expression | Range): number {
  switch (node.kind) {
    case 'brackets':
      return stackedValues(node.inner);
    case 'unary':
      return stackedValues(node.operand);
    case 'binary': {
      const own = node.operator === '**' ? VALUES_OF_POWER : 0;
      return Math.max(stackedValues(node.left), 1 + stackedValues(node.right), own);
    }
    case 'call': {
      const argument = stackedValues(node.argument);
      return node.function === 'STR$'
        ? Math.max(argument, VALUES_OF_DIGITS)
        : Math.max(argument, valuesOfFunction(node.function));
    }
    case 'constant':
      return valuesOfFunction(node.name);
    case 'range':
      return Math.max(
        node.from === undefined ? 0 : stackedValues(node.from),
        node.to === undefined ? 0 : stackedValues(node.to),
      );
    case 'subscripted':
      return Math.max(
        stackedValues(node.base),
        ...node.subscripts.map((each) => 1 + stackedValues(each)),
      );
    default:
      return 1;
  }
}

/** The same where PRINT shows the value: a number's digits are worked out on the stack. */
export function stackedValuesShown(node: Expression): number {
  const values = stackedValues(node);
  return node.type === 'number' ? Math.max(values, VALUES_OF_DIGITS) : values;
}
