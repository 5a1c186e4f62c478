// Valid: PAUSE 100, followed by POKE 16437,255.
// Not valid: PAUSE 100 without it.

import type { Step } from '../../analysis/steps.js';
import { addressOf } from '../../machine/system-variables.js';
import type { LintContext, Rule } from '../rule.js';

/** The high byte of FRAMES. */
const FRAMES_HIGH = addressOf('FRAMES') + 1;

export const pausePoke: Rule = {
  name: 'pause-poke',
  kind: 'mistake',
  severity: 'warning',
  summary: 'PAUSE without the POKE that the manual asks for after it',
  page: 'The manual (chapter 19) asks for `POKE 16437,255` after every `PAUSE`: without it the program may be lost, at the latest when the frame counter runs out. The finding is given where the next line is not that `POKE`.',
  check(context, report) {
    for (const { index, statement } of context.program.steps) {
      if (statement?.kind !== 'PAUSE') continue;
      const next = context.program.steps[index + 1];
      if (next !== undefined && setsFrames(next, context)) continue;
      report(statement, {
        message: `no POKE ${FRAMES_HIGH},255 follows this PAUSE`,
        why: 'the manual asks for it: the counter of frames is left as PAUSE used it',
        help: `write POKE ${FRAMES_HIGH},255 in the next line`,
      });
    }
  },
};

function setsFrames({ statement }: Step, context: LintContext): boolean {
  return statement?.kind === 'POKE' && context.constant(statement.args[0]) === FRAMES_HIGH;
}
