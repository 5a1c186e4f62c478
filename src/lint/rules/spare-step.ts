// Valid: FOR I=1 TO 9, and a STEP of anything but 1.
// Not valid: FOR I=1 TO 9 STEP 1, which is what FOR does without it.

import type { Expression } from '../../../grammar/tree.js';
import { putWords } from '../../listing/edits.js';
import { literalBytes } from '../literal-forms.js';
import type { Rule } from '../rule.js';

export const spareStep: Rule = {
  name: 'spare-step',
  kind: 'memory',
  severity: 'note',
  summary: 'STEP 1, which FOR takes by itself',
  page: 'Without `STEP` the variable goes up by 1. `STEP 1` takes 8 bytes for nothing, `STEP SGN PI` 3.',
  fixes: true,
  check(context, report) {
    for (const step of context.program.steps) {
      if (step.statement?.kind !== 'FOR' || step.statement.step === undefined) continue;
      const { to, step: by } = step.statement;
      const size = bytesOfOne(by);
      if (size === undefined) continue;
      const place = { start: to.end, end: by.end };
      const edits = [putWords(context.text, place, '')];
      report(by, {
        message: 'this STEP changes nothing',
        why: 'FOR goes up by 1 where no STEP is given',
        bytes: 1 + size,
        fix: context.fixIn(step, { what: 'STEP 1 left out', edits, claims: [place] }),
      });
    }
  },
};

function bytesOfOne(node: Expression): number | undefined {
  if (node.kind === 'number' && node.stored === 'digits' && node.value === 1)
    return literalBytes(node);
  const isSign = node.kind === 'call' && node.function === 'SGN';
  return isSign && node.argument.kind === 'constant' && node.argument.name === 'PI' ? 2 : undefined;
}
