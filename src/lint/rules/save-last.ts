// Valid: SAVE "OAK" and a line after it, from which the program goes on once it is loaded.
// Not valid: SAVE "OAK" as the last line.
import type { Rule } from '../rule.js';

export const saveLast: Rule = {
  name: 'save-last',
  kind: 'mistake',
  severity: 'warning',
  summary: 'SAVE with no line after it',
  page: 'A program that saves itself goes on, when it is loaded, with the line after the `SAVE`. Where there is none it stops with report 0 at once.',
  check({ program }, report) {
    const last = program.steps.at(-1);
    if (last?.statement?.kind !== 'SAVE') return;
    report(last.statement, {
      message: 'nothing comes after this SAVE',
      why: 'once loaded the program goes on behind the SAVE, and stops there at once with report 0',
      help: 'add a line such as RUN after it',
    });
  },
};
