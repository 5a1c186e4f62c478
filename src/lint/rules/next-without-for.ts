// Valid: FOR I=1 TO 9 … NEXT I.
// Not valid: NEXT I where no FOR I is to be found.
import type { Rule } from '../rule.js';

export const nextWithoutFor: Rule = {
  name: 'next-without-for',
  kind: 'mistake',
  severity: 'error',
  summary: 'NEXT of a variable that no FOR sets up',
  page: 'The machine stops with report 1, or with report 2 if there is no such variable at all.',
  check({ program }, report) {
    for (const { statement } of program.steps) {
      if (statement?.kind !== 'NEXT') continue;
      const { name } = statement.variable;
      const settings = program.names.all.get(name)?.settings ?? [];
      const saved = program.saved.find(
        (variable) =>
          variable.name === name && (variable.kind === 'for' || variable.kind === 'number'),
      );
      if (saved?.kind === 'for' || settings.some(({ kind }) => kind === 'FOR')) continue;
      const isSet = settings.some(({ kind }) => kind !== 'NEXT');
      // RUN clears what was saved; a program that runs itself, and GOTO, keep it.
      const code =
        isSet || (saved && program.runsItself) ? '1' : saved ? '2, or after GOTO with 1' : '2';
      report(statement.variable, {
        message: `no FOR sets up ${name}`,
        why: `the machine stops here with report ${code}`,
        help: `write FOR ${name}=… before the loop, or the variable of its FOR here`,
      });
    }
  },
};
