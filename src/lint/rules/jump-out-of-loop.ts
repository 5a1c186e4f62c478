// Valid: IF … THEN LET I=9 to end a loop early, and leaving it by its NEXT.
// Not valid: GOTO from between FOR and NEXT to a line outside.
import { loopJumps } from '../loop-jumps.js';
import type { Rule } from '../rule.js';

export const jumpOutOfLoop: Rule = {
  name: 'jump-out-of-loop',
  kind: 'mistake',
  severity: 'note',
  summary: 'GOTO out of a FOR loop',
  page: 'The machine allows it and loses nothing by it: a loop takes no room on a stack. But the loop can then be taken up again by any `NEXT` of its variable, which is seldom meant.',
  check({ program }, report) {
    for (const { jump, loop, way } of loopJumps(program)) {
      if (way !== 'out') continue;
      report(jump.node!, {
        message: `this leaves the loop of ${loop.variable} that line ${loop.start.line.number} begins, and the loop stays open`,
        why: `any NEXT ${loop.variable} would take it up again`,
        help: 'that is allowed: see that no such NEXT follows',
      });
    }
  },
};
