// Valid: LET B=VAL "256" once, and B wherever 256 is meant; a number that stands only a few times.
// Not valid: the same number so often that setting a variable to it would take fewer bytes.

import { count } from '../../listing/print.js';
import { grouped } from '../../listing/search.js';
import { LINE_FRAME } from '../../machine/image-layout.js';
import { numberVariableSize } from '../../machine/variables.js';
import { literalBytes, shorterForm } from '../literal-forms.js';
import type { Rule } from '../rule.js';

/** A line `LET B=…`: its head and NEWLINE, LET, the name and the equals sign; and the variable. */
const LET_LINE = LINE_FRAME + 3;
const VARIABLE = numberVariableSize('A');

export const repeatedNumber: Rule = {
  name: 'repeated-number',
  kind: 'memory',
  severity: 'note',
  summary: 'the same number so often that a variable for it pays',
  page: 'A variable of one letter takes 6 bytes and its `LET` line at least 10, and each use of it 1. The finding counts from the shortest form of the number, and says from how many uses on the variable pays. There is no automatic fix: which letter is free for good, and where the line belongs, is for you to say.',
  check({ program }, report) {
    const literals = program.literals.filter(({ node }) => node.stored === 'digits');
    for (const all of grouped(literals, ({ node }) => node.value).values()) {
      const [first] = all;
      const times = all.length;
      const { node } = first;
      const each = shorterForm(first, node)?.bytes ?? literalBytes(node);
      const cost = LET_LINE + VARIABLE + each;
      const bytes = times * (each - 1) - cost;
      if (bytes <= 0) continue;
      const breakEven = Math.floor(cost / (each - 1)) + 1;
      report(node, {
        message: `${node.text} stands ${count(times, 'time')}: a variable would save ${count(bytes, 'byte')} more than any form of the number`,
        why: `a variable of one letter pays from ${breakEven} uses on: each takes 1 byte instead of ${each}`,
        help: `set a variable to ${node.text} in one of the first lines, and use it`,
        bytes,
      });
    }
  },
};
