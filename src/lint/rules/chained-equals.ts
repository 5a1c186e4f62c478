// Valid: LET F=A=1 where F is a question: IF F, NOT F, F*8. LET A=B=0 where it is one too.
// Not valid: LET A=B=0 that is to set A and B.

import type { Expression, Variable } from '../../../grammar/tree.js';
import { withoutBrackets } from '../../../grammar/visit.js';
import type { LintContext, Rule } from '../rule.js';

export const chainedEquals: Rule = {
  name: 'chained-equals',
  kind: 'mistake',
  severity: 'warning',
  summary: 'LET A=B=0, which sets A alone, to 1 or 0',
  page: '`LET` sets one variable, and a second `=` compares: `LET A=B=0` makes A 1 where B is 0, else 0, and leaves B alone. To set two variables write two lines. The finding is given where nothing sets the second variable, or where nothing asks the first whether it is true (`IF A`, `NOT A`, `A AND …`, `8*A`, `A=1`).',
  check(context, report) {
    const { steps, names } = context.program;
    for (const { statement } of steps) {
      if (statement?.kind !== 'LET' || statement.value.kind !== 'binary') continue;
      const { target, value } = statement;
      const second = comparedVariable(value);
      if (second === undefined) continue;
      const isSet = (names.all.get(second.name)?.settings.length ?? 0) > 0;
      if (isSet && (target.kind !== 'variable' || isQuestion(target.name, context))) continue;
      const text = ({ start, end }: { start: number; end: number }): string =>
        context.text.slice(start, end).trim();
      const parts = chain(value);
      const last = text(parts.at(-1)!);
      const others = parts.slice(0, -1).map((part) => `LET ${text(part)}=${last}`);
      report(value, {
        message: `this sets ${text(target)} alone, to 1 or 0: the second = compares`,
        why: 'LET sets one variable',
        help: `write ${[`LET ${text(target)}=${last}`, ...others].join(', and on a line of its own ')}`,
      });
    }
  },
};

/** What stands between the signs of A=B=0: all but the last. */
function chain(node: Expression): Expression[] {
  return node.kind === 'binary' && node.operator === '='
    ? [...chain(node.left), node.right]
    : [node];
}

/** The variable right behind LET's own =, where a comparison with = begins there. */
function comparedVariable(value: Expression): Variable | undefined {
  const parts = chain(value);
  const [first] = parts;
  const isRow = parts.slice(0, -1).every((part) => part.kind === 'variable');
  return parts.length > 1 && isRow && first.kind === 'variable' && first.type === 'number'
    ? first
    : undefined;
}

/** Does the program ask somewhere whether this variable is true, or reckon with 1 or 0? */
function isQuestion(name: string, { program }: LintContext): boolean {
  return program.uses.some(({ node, parent, step }) => {
    if (node.kind !== 'variable' || node.name !== name) return false;
    const around = parent?.node;
    if (around === undefined) return step.conditions.some((one) => withoutBrackets(one) === node);
    if (around.kind === 'unary') return true;
    if (around.kind === 'brackets') return true;
    if (around.kind !== 'binary') return false;
    if (['AND', 'OR', '*'].includes(around.operator)) return true;
    const other = around.left === node ? around.right : around.left;
    return other.kind === 'number' && (other.value === 0 || other.value === 1);
  });
}
