// Valid: 10 PRINT "OAK" and 20 PRINT "ELM", which begin a new row each.
// Not valid: 10 PRINT "OAK"; and 20 PRINT "ELM", which one line could do.

import type { Step } from '../../analysis/steps.js';
import { LINE_FRAME } from '../../machine/image-layout.js';
import { isJumpTarget } from '../line-removal.js';
import type { Rule } from '../rule.js';

/** Head and NEWLINE of the second line, and its PRINT. */
const SAVED = LINE_FRAME + 1;

export const joinedPrint: Rule = {
  name: 'joined-print',
  kind: 'memory',
  severity: 'note',
  summary: 'PRINT that goes on where the PRINT before it left off',
  page: 'A `PRINT` that ends in `;` or `,` and one in the next line print the same from one line, which saves 6 bytes. What they work out then stays in the workspace until both are done. There is no automatic fix: a report would name another line, and so must jumps.',
  check({ program }, report) {
    for (const step of program.steps) {
      const next = program.steps[step.index + 1];
      if (next === undefined || !isPrint(step) || !isPrint(next)) continue;
      const { statement } = step;
      if (statement?.kind !== next.statement?.kind || isJumpTarget(program, next)) continue;
      const last = (statement as { items: readonly { kind: string }[] }).items.at(-1);
      if (last?.kind !== 'separator') continue;
      report(next.statement!, {
        message: `line ${step.line.number} could print this too`,
        why: `a line of its own takes ${SAVED} bytes more`,
        help: `put it at the end of line ${step.line.number}, and take line ${next.line.number} out`,
        bytes: SAVED,
      });
    }
  },
};

const isPrint = ({ statement, conditions }: Step): boolean =>
  conditions.length === 0 && (statement?.kind === 'PRINT' || statement?.kind === 'LPRINT');
