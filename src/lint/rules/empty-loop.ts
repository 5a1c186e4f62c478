// Valid: FOR I=9 TO 1 STEP -1, and a loop whose ends the run decides.
// Not valid: FOR I=9 TO 1, which goes on behind its NEXT at once.
import type { ForStatement } from '../../../grammar/tree.js';
import { single } from '../../analysis/expression-ranges.js';
import type { Program } from '../../analysis/program.js';
import { numberText } from '../../machine/arithmetic/digits.js';
import type { Rule } from '../rule.js';

export const emptyLoop: Rule = {
  name: 'empty-loop',
  kind: 'mistake',
  severity: 'warning',
  summary: 'FOR whose first value is past its last, so that nothing is run',
  page: 'The machine looks before the first pass whether there is one, and goes on behind the `NEXT` where there is none. To count down say so: `FOR I=9 TO 1 STEP -1`.',
  check({ program, text }, report) {
    for (const { index, statement } of program.steps) {
      const loop = program.flow.loopAt.get(index);
      if (statement?.kind !== 'FOR' || loop?.end === undefined) continue;
      if (program.flow.isSkipped(statement).low === 0) continue;
      const { variable, from, to, step } = statement;
      const ends = text.slice(from.start, to.end);
      report(
        { start: from.start, end: to.end },
        {
          message: `this loop makes no pass: ${firstPastLast(statement, program)}`,
          why: `the machine goes on behind NEXT ${variable.name} at once`,
          help:
            step === undefined
              ? `write FOR ${variable.name}=${ends} STEP -1 to count down`
              : `exchange the two ends, or give the STEP the other sign`,
        },
      );
    }
  },
};

function firstPastLast({ from, to }: ForStatement, { ranges }: Program): string {
  const [first, last] = [from, to].map((node) => single(ranges.number(node)));
  return first === undefined || last === undefined
    ? 'its first value is past its last'
    : `${numberText(first)} is past ${numberText(last)} already`;
}
