// Valid: GOTO to the FOR of a loop, and from one line of a loop to another.
// Not valid: GOTO from outside to a line between FOR and NEXT.
import { loopJumps } from '../loop-jumps.js';
import type { Rule } from '../rule.js';

export const jumpIntoLoop: Rule = {
  name: 'jump-into-loop',
  kind: 'mistake',
  severity: 'warning',
  summary: 'GOTO into a FOR loop past its FOR',
  page: 'If the `FOR` has not run, its `NEXT` stops with report 1 or 2; if it has, the loop goes on with whatever value and limit were left.',
  check({ program }, report) {
    for (const { jump, loop, target, way } of loopJumps(program)) {
      if (way !== 'in') continue;
      report(jump.node!, {
        message: `line ${program.steps[target].line.number} is inside the loop of ${loop.variable} that line ${loop.start.line.number} begins`,
        why: `where that FOR has not run, NEXT ${loop.variable} stops with report 1 or 2`,
        help: `go to line ${loop.start.line.number}, or set the loop up another way`,
      });
    }
  },
};
