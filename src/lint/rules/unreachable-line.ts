// Valid: a line that the run comes to, lines from a SAVE on that are begun by hand with GOTO, and
// those behind a STOP, to which CONT goes on.
// Not valid: a line behind a GOTO or RETURN to which no jump leads.

import { lineSize } from '../../machine/image-layout.js';
import { deadLines } from '../dead-lines.js';
import type { Rule } from '../rule.js';

export const unreachableLine: Rule = {
  name: 'unreachable-line',
  kind: 'memory',
  severity: 'note',
  summary: 'lines that no run comes to',
  page: 'Nothing leads to these lines from where the program begins. If they are begun by hand, with `GOTO` or `RUN` and their number, say so in a comment that silences this rule; else they can go. There is no automatic fix, because the tool cannot know which it is. Lines from a `SAVE` on are taken to be begun by hand, and `CONT` goes on behind a `STOP`.',
  check({ program }, report) {
    const { steps } = program;
    const never = deadLines(program);
    const dead = (index: number): boolean => never[index] && steps[index].statement?.kind !== 'REM';
    for (let index = 0; index < steps.length; index++) {
      if (!dead(index)) continue;
      let end = index;
      let bytes = 0;
      while (dead(end)) bytes += lineSize(steps[end++].line);
      const first = steps[index].line;
      const last = steps[end - 1].line;
      const lines =
        first === last ? `line ${first.number} is` : `lines ${first.number} to ${last.number} are`;
      report(first, {
        message: `${lines} never reached: ${bytes} bytes`,
        why:
          steps[index - 1]?.statement?.kind === 'FOR'
            ? 'the loop of the line before makes no pass, and no jump leads here'
            : 'the line before goes elsewhere, and no jump leads here',
        help: 'delete them; or, if they are begun by hand, silence the rule and say so',
        bytes,
      });
      index = end - 1;
    }
  },
};
