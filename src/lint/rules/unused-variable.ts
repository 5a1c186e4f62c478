// Valid: LET A=5 where A is read, and a variable that a VAL of unknown text may mean.
// Not valid: LET A=5 where nothing reads A.

import type { Reading, Setting } from '../../analysis/names.js';
import { lineSize } from '../../machine/image-layout.js';
import { isInert, takeOut } from '../line-removal.js';
import type { Rule } from '../rule.js';

export const unusedVariable: Rule = {
  name: 'unused-variable',
  kind: 'memory',
  severity: 'note',
  summary: 'a variable that is set and never read',
  page: "The line that sets it and the variable itself take room for nothing. The fix makes the line a comment of the editor's, where what it works out is a plain number or string; it is not offered for a line to which a jump leads. A variable that is only counted up counts as never read.",
  fixes: true,
  check(context, report) {
    const { program } = context;
    if (program.names.unknownReads.length > 0) return;
    for (const variable of program.names.all.values()) {
      const { name, settings, readings } = variable;
      if (settings.length === 0 || settings.some(({ kind }) => kind !== 'LET')) continue;
      if (settings.some(({ target }) => target.kind !== 'variable')) continue;
      if (readings.length > 0 && !onlyForItself(settings, readings)) continue;
      for (const { step, target } of settings) {
        if (step.statement?.kind !== 'LET') continue;
        const alone = readings.length === 0 && step.conditions.length === 0;
        const fix =
          alone && isInert(step.statement.value)
            ? takeOut(context, step, `the line that sets ${name} becomes a comment`)
            : undefined;
        report(target, {
          message: `${name} is set here and never read`,
          why: `the line takes ${lineSize(step.line)} bytes, and the variable its own`,
          help: 'delete the line, unless something outside the listing reads it',
          bytes: lineSize(step.line),
          fix,
        });
      }
    }
  },
};

/** Is it read nowhere but where it is set, as a counter is that nobody looks at? */
function onlyForItself(settings: readonly Setting[], readings: readonly Reading[]): boolean {
  const own = new Set(settings.map(({ step }) => step));
  return readings.every(({ step }) => own.has(step) && step.conditions.length === 0);
}
