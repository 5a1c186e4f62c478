// Valid: GOTO 100 where there is a line 100.
// Not valid: GOTO 105 where there is none: the machine goes on at the next one, or stops.
import { LINES_END } from '../../machine/memory-map.js';
import type { Rule } from '../rule.js';

export const missingLine: Rule = {
  name: 'missing-line',
  kind: 'mistake',
  severity: 'warning',
  summary: 'GOTO, GOSUB or RUN to a line that is not there',
  page: 'The machine takes the next line that there is, and behind the last one the program ends with report 0. That is often a slip of typing, or the trace of a line that was deleted.',
  check({ program }, report) {
    const { steps } = program;
    for (const { kind, node, number, targets } of program.flow.jumps) {
      if (node === undefined || number === undefined || targets.length !== 1) continue;
      // What no line can have is for `argument-range` to say.
      if (number < 0 || number >= LINES_END) continue;
      const found = steps[targets[0]]?.line.number;
      if (found === number) continue;
      report(node, {
        message:
          found === undefined
            ? `there is no line ${number}, nor one after it: the program ends here`
            : `there is no line ${number}: ${kind} goes to line ${found}`,
        why: 'the machine takes the next line that there is',
        help:
          found === undefined ? 'use STOP, if that is meant' : `write ${found}, if that is meant`,
      });
    }
  },
};
