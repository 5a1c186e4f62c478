// Valid: 7, .5 and 2.25.
// Not valid: 007, 0.5, 5., 2.50 and 1E, which store characters that say nothing.

import { putWords } from '../../listing/edits.js';

import { literalBytes, shortestText } from '../literal-forms.js';

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
      // Without the spaces in it first, which `spare-space` tells.
      if (node.stored !== 'digits' || node.spaces !== undefined) continue;
      if (!SUSPECT.test(node.text)) continue;
      const short = shortestText(node);
      if (short === undefined || short.length >= node.text.length) continue;
      const bytes = node.text.length - short.length;
      report(node, {
        message: `${node.text} is ${short}, in ${literalBytes(node) - bytes} bytes instead of ${literalBytes(node)}`,
        why: 'every character of a number is stored, needed or not',
        bytes,
        fix: context.fixIn(step, {
          what: `${node.text} as ${short}`,
          edits: [putWords(context.text, node, short)],
        }),
      });
    }
  },
};

/** What can be shortened begins with a zero, has a point, or an exponent without digits. */
const SUSPECT = /^0.|\.|E[+-]?$/i;
