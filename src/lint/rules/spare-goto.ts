// Valid: GOTO to any line but the next, and IF A THEN GOTO.
// Not valid: 10 GOTO 20 just before line 20, which comes next anyway.

import { lineSize } from '../../machine/image-layout.js';
import { isInert, takeOut } from '../line-removal.js';
import type { Rule } from '../rule.js';

export const spareGoto: Rule = {
  name: 'spare-goto',
  kind: 'memory',
  severity: 'note',
  summary: 'GOTO to the line that comes next anyway',
  page: "The machine goes on with the next line by itself. The fix makes the `GOTO` a comment of the editor's; it is not offered where a jump leads to it.",
  fixes: true,
  check(context, report) {
    const { program } = context;
    for (const { kind, step, node, targets, anywhere } of program.flow.jumps) {
      if (kind !== 'GOTO' || anywhere || step.conditions.length > 0 || node === undefined) continue;
      const [target, ...others] = targets;
      const next = step.index + 1;
      if (others.length > 0 || target !== next || next >= program.steps.length) continue;
      if (!isInert(node)) continue;
      const bytes = lineSize(step.line);
      report(step.statement!, {
        message: `line ${program.steps[next].line.number} comes next without this GOTO`,
        why: `the line takes ${bytes} bytes, and the machine goes on by itself`,
        bytes,
        fix: takeOut(context, step, 'the GOTO to the next line becomes a comment'),
      });
    }
  },
};
