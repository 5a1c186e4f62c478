// Valid: PRINT A$;B$, PRINT A$+"X" of two short strings, and LET A$=A$+"X" behind DIM A$(20).
// Not valid: LET A$=A$+B$, which needs the room of both strings three times while it runs.

import type { Expression } from '../../../grammar/tree.js';
import { withoutBrackets } from '../../../grammar/visit.js';
import type { Rule } from '../rule.js';

export const stringDoubling: Rule = {
  name: 'string-doubling',
  kind: 'memory',
  severity: 'note',
  summary: 'a string added to itself, which needs its length over again while it runs',
  page: 'Joined strings are made in the workspace, copied into a new variable, and only then is the old one given up: for a moment the text is there up to three times. Where the length is known beforehand, `DIM` the string and set its parts instead: `LET A$(I)=B$` needs the room of `A$(I)` once more while it runs, in the workspace, and moves no variable.',
  check({ program }, report) {
    for (const { statement } of program.steps) {
      if (statement?.kind !== 'LET' || statement.target.kind !== 'variable') continue;
      const { target, value } = statement;
      if (target.type !== 'string' || !joinsItself(value, target.name)) continue;
      // A string of fixed length stays where it is: its text is made anew beside it, and no more.
      if (program.ranges.elementLength(target.name) !== undefined) continue;
      const { high } = program.ranges.length(value);
      const most = Number.isFinite(high) ? ` (up to ${2 * high} bytes more)` : '';
      report(statement, {
        message: `${target.name} is added to itself: while this runs its text is there up to three times${most}`,
        why: 'the joined text is made, then copied, and only then is the old one given up',
        help: `DIM ${target.name} to its full length, and set its parts`,
        bytes: Number.isFinite(high) ? 2 * high : undefined,
      });
    }
  },
};

function joinsItself(node: Expression, name: string): boolean {
  const value = withoutBrackets(node);
  return value.kind !== 'variable' && holds(value, name);
}

/** Is it the variable, or a join in which it is? */
function holds(node: Expression, name: string): boolean {
  const inner = withoutBrackets(node);
  if (inner.kind === 'variable') return inner.name === name;
  return (
    inner.kind === 'binary' &&
    inner.operator === '+' &&
    (holds(inner.left, name) || holds(inner.right, name))
  );
}
