// Valid: LET A=VAL "25", a number that no shorter form gives, and a line whose bytes the program looks at.
// Not valid: LET A=25, which hides six bytes behind its digits.

import { putWords } from '../../listing/edits.js';
import { literalBytes, shorterForm } from '../literal-forms.js';
import type { Rule } from '../rule.js';

export const numberForm: Rule = {
  name: 'number-form',
  kind: 'memory',
  severity: 'note',
  summary: 'a number that VAL, CODE, NOT PI, SGN PI or INT PI stores in fewer bytes',
  page: 'A number in a line is stored twice: as its digits, and as a marker and five bytes behind them that the machine computes with. `VAL "25"` has the digits alone and saves 3 bytes; 0, 1 and 3 are `NOT PI`, `SGN PI` and `INT PI` in 2 bytes; a number that is the code of a character is `CODE "S"` in 4; `VAL ".5"` does for decimals. The value is exactly the same. It is worked out each time, so leave it in a line that must be fast; and while the statement runs each `VAL` holds a copy of its text, and 6 bytes more, in the workspace: in the fullest line that room counts too.',
  fixes: true,
  check(context, report) {
    for (const use of context.program.literals) {
      const { node, step } = use;
      const form = shorterForm(use, node);
      if (form === undefined) continue;
      const bytes = literalBytes(node) - form.bytes;
      if (bytes <= 0) continue;
      const edits = [putWords(context.text, node, form.text)];
      report(node, {
        message: `${node.text} as ${form.text} takes ${form.bytes} bytes instead of ${literalBytes(node)}`,
        why: 'behind its digits a number hides a marker and five bytes',
        bytes,
        fix: context.fixIn(step, { what: `${node.text} as ${form.text}`, edits }),
      });
    }
  },
};
