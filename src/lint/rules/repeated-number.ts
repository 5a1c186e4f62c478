// Valid: LET B=VAL "256" once, and B wherever 256 is meant; a number that stands only a few times.
// Not valid: the same number so often that setting a variable to it would take fewer bytes.

import type { Use } from '../../memory/analysis/steps.js';
import { literalBytes, shorterForm } from '../literal-forms.js';
import type { Rule } from '../rule.js';

/** A line `LET B=…`: its head and NEWLINE, LET, the name and the equals sign; and the variable. */
const LET_LINE = 5 + 3;
const VARIABLE = 6;

export const repeatedNumber: Rule = {
  name: 'repeated-number',
  kind: 'memory',
  severity: 'note',
  summary: 'the same number so often that a variable for it pays',
  page: 'A variable of one letter takes 6 bytes and its `LET` line at least 10, and each use of it 1. The finding counts from the shortest form of the number, and says from how many uses on the variable pays. There is no automatic fix: which letter is free for good, and where the line belongs, is for you to say.',
  fixes: false,
  check({ program }, report) {
    const groups = new Map<number, Use[]>();
    for (const use of program.uses) {
      if (use.node.kind !== 'number' || use.node.stored !== 'digits') continue;
      const group = groups.get(use.node.value);
      if (group === undefined) groups.set(use.node.value, [use]);
      else group.push(use);
    }
    for (const uses of groups.values()) {
      const first = uses[0];
      if (first.node.kind !== 'number') continue;
      const each = shorterForm(first, first.node)?.bytes ?? literalBytes(first.node);
      if (each < 2) continue;
      const cost = LET_LINE + VARIABLE + each;
      const bytes = uses.length * (each - 1) - cost;
      const breakEven = Math.floor(cost / (each - 1)) + 1;
      if (bytes <= 0) continue;
      report({
        start: first.node.start,
        end: first.node.end,
        message: `${first.node.text} stands ${uses.length} times: a variable would save ${bytes} bytes more than any form of the number`,
        why: `a variable of one letter pays from ${breakEven} uses on: each takes 1 byte instead of ${each}`,
        help: `set a variable to ${first.node.text} in one of the first lines, and use it`,
        bytes,
      });
    }
  },
};
