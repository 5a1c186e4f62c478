// Valid: machine code in a REM that is the first line, at 16514, without code 118.
// Not valid: USR into a REM further on, whose address moves, or into one that holds code 118.
import { wholeOf } from '../../machine/arithmetic/operations.js';
import { NEWLINE } from '../../machine/characters.js';
import { LINE_HEAD } from '../../machine/image-layout.js';
import { PROGRAM_START, RAM_START } from '../../machine/memory-map.js';
import type { Rule } from '../rule.js';

export const machineCodePlace: Rule = {
  name: 'machine-code-place',
  kind: 'mistake',
  severity: 'warning',
  summary: 'machine code in a REM that is not the first line, or that contains code 118',
  page: 'The text of a `REM` in the first line is at 16514 whatever comes after; further on it moves with every change before it. Code 118 ends a line for `LIST` and for the editor, which then take the rest of the code for lines. `USR` into a line that is no `REM` runs its text.',
  check(context, report) {
    const { addresses, programEnd } = context.selfReading;
    for (const { node } of context.program.uses) {
      if (node.kind !== 'call' || node.function !== 'USR') continue;
      const value = context.constant(node.argument);
      if (value === undefined) continue;
      const address = wholeOf(value);
      if (address < RAM_START) continue;
      if (address < PROGRAM_START || address >= programEnd) continue;
      const index = addresses.findLastIndex((one) => one <= address);
      const step = context.program.steps[index];
      if (step?.statement?.kind !== 'REM' || address < addresses[index] + LINE_HEAD + 1) {
        report(node, {
          severity: 'error',
          message: `${address} is in line ${step?.line.number ?? 'none'}, and not in the text of a REM`,
          why: 'the machine would run the bytes of the listing itself',
          help: `the text of a REM in the first line is at ${PROGRAM_START + LINE_HEAD + 1}`,
        });
        continue;
      }
      if (index > 0) {
        report(node, {
          message: `this runs machine code in line ${step.line.number}, which is not the first`,
          why: 'its address changes with every change of a line before it',
          help: `make it the first line: there its text is always at ${PROGRAM_START + LINE_HEAD + 1}`,
        });
      }
      if (step.statement.codes.includes(NEWLINE)) {
        report(node, {
          message: `the REM in line ${step.line.number} contains code ${NEWLINE}`,
          why: 'LIST and the editor take it for the end of the line, and what follows for lines',
          help: 'write the code so that the byte does not come up',
        });
      }
    }
  },
};
