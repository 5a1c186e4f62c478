// Valid: LET B=A where A or B changes later.
// Not valid: LET B=A where both keep the same value for the rest of the run.

import { withoutBrackets } from '../../../grammar/visit.js';
import { lineSize } from '../../machine/image-layout.js';
import { numberVariableSize, stringVariableSize } from '../../machine/variables.js';
import type { Rule } from '../rule.js';

export const copiedVariable: Rule = {
  name: 'copied-variable',
  kind: 'memory',
  severity: 'note',
  summary: 'a LET that only copies a variable which never changes',
  page: 'Where neither of two variables is set again, one of them is enough. The finding counts the line and the second variable.',
  check({ program }, report) {
    for (const { settings } of program.names.all.values()) {
      if (settings.length !== 1) continue;
      const [{ step, kind, target }] = settings;
      if (kind !== 'LET' || step.statement?.kind !== 'LET' || target.kind !== 'variable') continue;
      const value = withoutBrackets(step.statement.value);
      if (value.kind !== 'variable' || value.name === target.name) continue;
      const source = program.names.all.get(value.name)?.settings;
      if (source?.length !== 1 || source[0].kind !== 'LET') continue;
      const size =
        target.type === 'number' ? numberVariableSize(target.name) : stringVariableSize(0);
      const bytes = lineSize(step.line) + size;
      report(step.statement, {
        message: `${target.name} only copies ${value.name}, and neither is set again`,
        why: `the line and the second variable take ${bytes} bytes`,
        help: `use ${value.name} instead of ${target.name}`,
        bytes,
      });
    }
  },
};
