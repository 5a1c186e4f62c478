// Valid: A/B, A/2.
// Not valid: A/0.
import type { Rule } from '../rule.js';

export const divisionByZero: Rule = {
  name: 'division-by-zero',
  kind: 'mistake',
  severity: 'error',
  summary: 'division by a zero that the listing shows',
  page: 'The machine stops with report 6.',
  check(context, report) {
    for (const { node } of context.program.uses) {
      if (node.kind !== 'binary' || node.operator !== '/') continue;
      if (context.constant(node.right) !== 0) continue;
      report(node.right, {
        message: 'this divides by zero',
        why: 'the machine stops here with report 6: arithmetic overflow',
        help: 'divide by something else, or ask for zero first',
      });
    }
  },
};
