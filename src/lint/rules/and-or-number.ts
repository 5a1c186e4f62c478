// Valid: A=1 OR A=2, A=1 OR B, 5 AND A=1, PEEK X AND Y>3.
// Not valid: A=1 OR 2, A>1 AND 5, PEEK X AND 128, X OR 1: a number behind AND or OR.

import type { Binary, Expression } from '../../../grammar/tree.js';
import { compares, withoutBrackets } from '../../../grammar/visit.js';
import type { LintContext, Rule } from '../rule.js';

export const andOrNumber: Rule = {
  name: 'and-or-number',
  kind: 'mistake',
  severity: 'warning',
  summary: 'a number behind AND or OR, which asks nothing and takes no bits',
  page: '`AND` and `OR` ask whether a number is 0, and no more: `x AND y` is x where y is not 0, else 0; `x OR y` is 1 where y is not 0, else x. So `IF A=1 OR 2` is always true: write `IF A=1 OR A=2`. They do not work on bits: `PEEK X AND 128` is `PEEK X`. A bit is got by dividing: `INT (X/128)-2*INT (X/256)` is 1 where the bit of 128 is set.',
  check(context, report) {
    for (const { node, parent } of context.program.uses) {
      if (!endsInNumber(node)) continue;
      // Of A=1 OR 2 OR 3 the whole is told.
      if (parent !== undefined && endsInNumber(parent.node) && parent.node.left === node) continue;
      const asked = numbersBehind(node);
      const found = compares(asked.first) ? notAsked(node, asked, context) : notBits(node, context);
      report(node, found);
    }
  },
};

type AndOr = Binary & { readonly operator: 'AND' | 'OR' };

const endsInNumber = (node: Expression): node is AndOr =>
  node.kind === 'binary' &&
  (node.operator === 'AND' || node.operator === 'OR') &&
  isWritten(node.right);

/** Is it a number as the listing writes it? */
function isWritten(node: Expression): boolean {
  const value = withoutBrackets(node);
  if (value.kind === 'unary') return value.operator === '-' && isWritten(value.operand);
  if (value.kind === 'call') return value.function === 'VAL' && value.argument.kind === 'string';
  return value.kind === 'number';
}

/** The numbers behind an expression, each with its AND or OR, and the expression itself. */
function numbersBehind(node: AndOr): { first: Expression; behind: AndOr[] } {
  const behind: AndOr[] = [];
  let first: Expression = node;
  while (endsInNumber(first)) {
    behind.unshift(first);
    first = withoutBrackets(first.left);
  }
  return { first, behind };
}

function notAsked(
  { operator, right }: AndOr,
  { first, behind }: { first: Expression; behind: readonly AndOr[] },
  { text }: LintContext,
) {
  const written = ({ start, end }: Expression): string => text.slice(start, end);
  const { left, operator: sign } = first as Binary;
  const number = written(right);
  const question = `${written(left)}${sign}`;
  const all = behind.map((one) => ` ${one.operator} ${question}${written(one.right)}`);
  return {
    message: `${operator} ${number} does not ask whether ${question}${number}: a number alone is true unless it is 0`,
    why: `each side of ${operator} is a question of its own`,
    help:
      operator === 'OR'
        ? `write ${written(first)}${all.join('')}`
        : `ask the whole question again behind AND, as in ${written(left)}>1 AND ${written(left)}<5`,
  };
}

function notBits({ operator, left, right }: AndOr, context: LintContext) {
  const value = context.text.slice(left.start, left.end);
  const mask = context.constant(right);
  const always = operator === 'AND' ? (mask === 0 ? '0' : value) : mask === 0 ? value : '1';
  return {
    message: `${operator} does not work on bits: this is ${always}, whatever the number behind it says`,
    why:
      operator === 'AND'
        ? 'x AND y is x where y is not 0, else 0'
        : 'x OR y is 1 where y is not 0, else x',
    help: `get bits by dividing, as in ${bitText(operator === 'AND' ? mask : undefined)}`,
  };
}

/** How to get what a mask was to take of a number X. */
function bitText(mask = 0): string {
  const isPower = (number: number): boolean => number > 1 && Number.isInteger(Math.log2(number));
  if (isPower(mask + 1)) return `X-${mask + 1}*INT (X/${mask + 1})`;
  const bit = isPower(mask) ? mask : 128;
  return `INT (X/${bit})-2*INT (X/${2 * bit}), which is 1 where the bit of ${bit} is set`;
}
