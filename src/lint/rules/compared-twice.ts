// Valid: 1<A AND A<5, (A<5)=B.
// Not valid: 1<A<5, A=B=0 in an IF: a comparison compared again.

import type { Binary, Expression } from '../../../grammar/tree.js';
import { compares } from '../../../grammar/visit.js';
import type { Rule } from '../rule.js';

export const comparedTwice: Rule = {
  name: 'compared-twice',
  kind: 'mistake',
  severity: 'warning',
  summary: 'a comparison that is compared again, as in IF 1<A<5',
  page: 'A comparison gives 1 or 0, and signs in a row are worked out from the left: `1<A<5` asks whether 1 or 0 is less than 5, which is always true. Write `1<A AND A<5`. Where a truth is to be compared, brackets say so: `(A<5)=B`.',
  check(context, report) {
    for (const { node, parent, step } of context.program.uses) {
      if (!compares(node) || !compares(node.left)) continue;
      if (parent !== undefined && compares(parent.node) && parent.node.left === node) continue;
      // LET A=B=0=C is told of its own.
      if (step.statement?.kind === 'LET' && step.statement.value === node) continue;
      const written = ({ start, end }: Expression): string => context.text.slice(start, end);
      report(node, {
        message: `this asks how 1 or 0 stands to ${written(node.right)}, not ${written(node.left.right)}`,
        why: 'a comparison gives 1 or 0, and signs in a row are worked out from the left',
        help: `write ${questions(node)
          .map(([left, sign, right]) => `${written(left)}${sign}${written(right)}`)
          .join(' AND ')}`,
      });
    }
  },
};

/** Each value held against the next, as a person reads signs in a row. */
function questions({ left, operator, right }: Binary): [Expression, string, Expression][] {
  if (!compares(left)) return [[left, operator, right]];
  return [...questions(left), [left.right, operator, right]];
}
