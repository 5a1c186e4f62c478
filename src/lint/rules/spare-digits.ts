// Valid: 7, .5 and 2.25.
// Not valid: 007, 0.5, 5. and 2.50, which store characters that say nothing.

import { putWords } from '../../listing/edits.js';
import { numberOfDecimal } from '../../machine/arithmetic/decimal.js';
import { literalBytes } from '../literal-forms.js';
import type { Rule } from '../rule.js';

export const spareDigits: Rule = {
  name: 'spare-digits',
  kind: 'memory',
  severity: 'note',
  summary: 'zeros before or behind a number, and a point with nothing behind it',
  page: 'Every character of a number is stored. `007` is `7`, `0.5` is `.5`, `2.50` is `2.5`. The fix leaves the five bytes of the number as they are.',
  fixes: true,
  check(context, report) {
    for (const { node, step } of context.program.literals) {
      if (node.stored !== 'digits') continue;
      if (!SUSPECT.test(node.text)) continue;
      const short = shortened(node.text);
      const bytes = node.text.length - short.length;
      if (bytes <= 0 || numberOfDecimal(short) !== node.value) continue;
      report({
        start: node.start,
        end: node.end,
        message: `${node.text} is ${short}, in ${literalBytes(node) - bytes} bytes instead of ${literalBytes(node)}`,
        why: 'every character of a number is stored, needed or not',
        bytes,
        fix: context.mayChange(step)
          ? { what: `${node.text} as ${short}`, edits: [putWords(context.text, node, short)] }
          : undefined,
      });
    }
  },
};

/** What can be shortened begins with a zero, or has a point. */
const SUSPECT = /^0.|\./;

function shortened(text: string): string {
  const match = /^(\d*)(?:\.(\d*))?(E[+-]?\d+)?$/i.exec(text);
  if (match === null) return text;
  const whole = match[1].replace(/^0+/, '');
  const fraction = (match[2] ?? '').replace(/0+$/, '');
  const digits = fraction === '' ? whole : `${whole}.${fraction}`;
  return digits === '' ? '0' : digits + (match[3] ?? '');
}
