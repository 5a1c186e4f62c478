// Valid: PRINT AT 5,0;"OAK" on 1K, and anything at 3¼K or more, where the display is full already.
// Not valid: PRINT AT 5,25;"OAK" on 1K, which stores 25 spaces before it.
import { hasFullDisplay } from '../../machine/memory-map.js';
import type { Rule } from '../rule.js';

/** Fewer spaces than this are not worth a word. */
const LEAST = 8;

export const spreadDisplay: Rule = {
  name: 'spread-display',
  kind: 'memory',
  severity: 'note',
  summary: 'printing far to the right, which stores spaces before it, below 3¼K',
  page: 'With less than 3¼K of RAM a row of the display is stored only as far as it was printed. `AT`, `TAB`, a comma and `PLOT` fill the row with spaces up to their column, one byte each. Printed at the left edge the same text costs its own length alone.',
  check({ program, ram }, report) {
    if (hasFullDisplay(ram)) return;
    for (const { step, node, filled, rowLow, rowHigh } of program.display.growths) {
      // Only a place that the listing tells is worth moving.
      if (filled < LEAST || rowLow !== rowHigh || step.statement === undefined) continue;
      report(node ?? step.statement, {
        message: `this fills row ${rowLow} with ${filled} spaces`,
        why: 'below 3¼K a row is stored as far as it is printed, spaces too',
        help: 'print nearer to the left edge',
        bytes: filled,
      });
    }
  },
};
