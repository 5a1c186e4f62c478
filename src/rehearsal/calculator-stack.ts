/** What expressions need of the calculator stack. */
import type { Expression, FunctionName, Range } from '../../grammar/tree.js';

/** Bytes of the calculator stack that a number or a string's place takes. */
const STACK_ENTRY = 5;
/** Entries that the functions computed by series need besides (from memory of the ROM). */
const SERIES_ENTRIES = 3;
const SERIES = new Set<FunctionName>([
  'SIN',
  'COS',
  'TAN',
  'ASN',
  'ACS',
  'ATN',
  'LN',
  'EXP',
  'SQR',
]);

/** Bytes of the calculator stack that an expression needs at its deepest. */
export function stackNeed(expression: Expression | undefined): number {
  return expression === undefined ? 0 : STACK_ENTRY * entries(expression);
}

/** Entries of the calculator stack at the deepest point of an expression. */
function entries(expression: Expression | Range): number {
  switch (expression.kind) {
    case 'brackets':
      return entries(expression.inner);
    case 'unary':
      return entries(expression.operand);
    case 'binary':
      return Math.max(entries(expression.left), 1 + entries(expression.right));
    case 'call':
      return entries(expression.argument) + (SERIES.has(expression.function) ? SERIES_ENTRIES : 0);
    case 'range':
      return Math.max(
        expression.from === undefined ? 0 : entries(expression.from),
        expression.to === undefined ? 0 : entries(expression.to),
      );
    case 'subscripted':
      return Math.max(
        entries(expression.base),
        ...expression.subscripts.map((each) => 1 + entries(each)),
      );
    default:
      return 1;
  }
}
