// Valid: (A+B)*C, and brackets around the base of a slice.
// Not valid: (A*B)+C, NOT (A), PRINT ("OAK"), where the machine would do the same without them.
import { FUNCTION_PRIORITY, PRIORITY } from '../../../grammar/operators.js';
import type { Expression } from '../../../grammar/tree.js';
import { withoutBrackets } from '../../../grammar/visit.js';
import type { Use } from '../../analysis/steps.js';
import { putWords } from '../../listing/edits.js';
import { priorityBehind } from '../literal-forms.js';
import type { Rule } from '../rule.js';

export const spareBrackets: Rule = {
  name: 'spare-brackets',
  kind: 'memory',
  severity: 'note',
  summary: 'brackets without which the machine would do the same',
  page: 'A pair of brackets takes 2 bytes, and more of the stack while it is worked out. The machine does what binds tightest first: subscripts, functions, `**`, unary minus, `*` and `/`, `+` and `-`, comparisons, `NOT`, `AND`, `OR`; and what binds alike from left to right.',
  fixes: true,
  check(context, report) {
    for (const use of context.program.uses) {
      const { node, step } = use;
      if (!isSpareBrackets(use)) continue;
      // Brackets right within these go with them, as one finding.
      if (use.parent !== undefined && isSpareBrackets(use.parent)) continue;
      const pairs = pairsFrom(node);
      report(node, {
        message: 'these brackets change nothing',
        why: 'what stands in them is worked out at this place anyway',
        bytes: 2 * pairs.length,
        // Whether the brackets can go depends on all that stands between them.
        fix: context.fixIn(step, {
          what: 'brackets left out',
          edits: pairs.flatMap(({ start, end }) => [
            putWords(context.text, { start, end: start + 1 }, ''),
            putWords(context.text, { start: end - 1, end }, ''),
          ]),
          claims: [node],
        }),
      });
    }
  },
};

/** The brackets and all that stand right within them, the outermost first. */
function pairsFrom(node: Expression): Expression[] {
  const pairs: Expression[] = [];
  for (let pair = node; pair.kind === 'brackets'; pair = pair.inner) pairs.push(pair);
  return pairs;
}

function isSpareBrackets(use: Use): boolean {
  const { node, parent } = use;
  if (node.kind !== 'brackets') return false;
  return parent?.node.kind === 'brackets' || isSpare(use, withoutBrackets(node.inner));
}

/** How tightly the loosest operator of an expression binds, its brackets not looked into. */
function looseness(node: Expression): number {
  switch (node.kind) {
    case 'binary':
      return PRIORITY[node.operator];
    case 'unary':
      return node.operator === 'NOT' ? PRIORITY.NOT : PRIORITY.negate;
    default:
      return FUNCTION_PRIORITY;
  }
}

/** A prefix at the right end of an expression would reach over what follows. */
function reachesRight(node: Expression): number {
  if (node.kind === 'binary') return Math.min(looseness(node), reachesRight(node.right));
  if (node.kind === 'unary') return Math.min(looseness(node), reachesRight(node.operand));
  if (node.kind === 'call') return reachesRight(node.argument);
  return Number.POSITIVE_INFINITY;
}

function isSpare(use: Use, inner: Expression): boolean {
  const above = use.parent?.node;
  if (above?.kind === 'subscripted') return above.base !== use.node;
  if (above === undefined) return true;
  // An operator behind the brackets must not be drawn into what ends them.
  return looseness(inner) >= neededPriority(use) && priorityBehind(use) <= reachesRight(inner);
}

/** How tightly the contents must bind to stay together where they stand. */
function neededPriority({ node, parent }: Use): number {
  const above = parent!.node;
  if (above.kind === 'binary') {
    // Alike from left to right: on the right side it must bind more tightly.
    return PRIORITY[above.operator] + (above.right === node ? 1 : 0);
  }
  if (above.kind === 'unary') return looseness(above);
  return FUNCTION_PRIORITY;
}
