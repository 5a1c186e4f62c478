// Valid: printing on rows 0 to 21, SCROLL or CLS before more, and rows 22 and 23 after POKE 16418,0.
// Not valid: PRINT AT 22,0; and a twenty-third PRINT without CLS or SCROLL.
import { SYSTEM_VARIABLES } from '../../machine/system-variables.js';
import type { LintContext, Rule } from '../rule.js';

export const pastTheDisplay: Rule = {
  name: 'past-the-display',
  kind: 'mistake',
  severity: 'error',
  summary: 'printing below row 21',
  page: 'Rows 22 and 23 are kept for reports and for what is typed. The machine stops with report 5; `CONT` clears the display and goes on. `POKE 16418,0` gives these rows to the program, and nothing is reported where it stands.',
  check(context, report) {
    const { program } = context;
    if (givesLowerRows(context)) return;
    for (const { step, node } of program.display.overruns) {
      if (step.statement === undefined || !program.flow.reachable[step.index]) continue;
      report(node ?? step.statement, {
        message: 'this prints below row 21, the last that PRINT takes',
        why: 'the machine stops here with report 5: no room on the screen',
        help: 'SCROLL or CLS before it, or print higher up',
      });
    }
  },
};

const DF_SZ = SYSTEM_VARIABLES.find(({ name }) => name === 'DF_SZ')!.address;

/** Does the program, or its image, make the lower part of the display smaller than its two rows? */
function givesLowerRows({ program }: LintContext): boolean {
  const saved = program.listing.items.some(
    (item) => item.kind === 'system' && item.name === 'DF_SZ',
  );
  return (
    saved ||
    program.steps.some(({ statement }) => {
      if (statement?.kind !== 'POKE') return false;
      const { low, high } = program.ranges.number(statement.args[0]);
      return low === DF_SZ && high === DF_SZ;
    })
  );
}
