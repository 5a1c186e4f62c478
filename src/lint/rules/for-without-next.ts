// Valid: FOR I=1 TO 9 … NEXT I.
// Not valid: FOR I=1 TO 9 without any NEXT I: the lines behind it run once.
import type { Rule } from '../rule.js';

export const forWithoutNext: Rule = {
  name: 'for-without-next',
  kind: 'mistake',
  severity: 'warning',
  summary: 'FOR of a variable that has no NEXT',
  page: 'Nothing is repeated: what follows runs once. Where the first value is already past the limit the machine looks for the `NEXT` in vain.',
  check({ program }, report) {
    for (const { statement } of program.steps) {
      if (statement?.kind !== 'FOR') continue;
      const { name } = statement.variable;
      const settings = program.names.all.get(name)?.settings ?? [];
      if (settings.some(({ kind }) => kind === 'NEXT')) continue;
      report(statement.variable, {
        message: `no NEXT ${name} closes this loop`,
        why: 'what follows it runs once, and the variable takes 18 bytes instead of 6',
        help: `write NEXT ${name} where the loop ends`,
      });
    }
  },
};
