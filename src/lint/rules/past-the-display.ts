// Valid: printing on rows 0 to 21, and SCROLL or CLS before more.
// Not valid: PRINT AT 22,0; and a twenty-third PRINT without CLS or SCROLL.
import type { Rule } from '../rule.js';

export const pastTheDisplay: Rule = {
  name: 'past-the-display',
  kind: 'mistake',
  severity: 'error',
  summary: 'printing below row 21',
  page: 'Rows 22 and 23 are kept for reports and for what is typed. The machine stops with report 5; `CONT` clears the display and goes on.',
  fixes: false,
  check({ program }, report) {
    for (const { step, node } of program.display.overruns) {
      if (step.statement === undefined || !program.flow.reachable[step.index]) continue;
      const { start, end } = node ?? step.statement;
      report({
        start,
        end,
        message: 'this prints below row 21, the last that PRINT takes',
        why: 'the machine stops here with report 5: no room on the screen',
        help: 'SCROLL or CLS before it, or print higher up',
      });
    }
  },
};
