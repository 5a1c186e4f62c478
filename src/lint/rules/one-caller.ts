// Valid: a subroutine that two GOSUBs call.
// Not valid: a subroutine with one caller, which could stand where it is called.
import { count } from '../../listing/print.js';
import { lineSize } from '../../machine/image-layout.js';
import type { Rule } from '../rule.js';

/** The line RETURN: head, one byte and NEWLINE. The line of the GOSUB: head, GOSUB, number, NEWLINE. */
const RETURN_LINE = 6;

export const oneCaller: Rule = {
  name: 'one-caller',
  kind: 'memory',
  severity: 'note',
  summary: 'a subroutine that only one GOSUB calls',
  page: 'Moved to where it is called, a subroutine needs neither its `RETURN` line of 6 bytes nor the line of the `GOSUB`, nor the 2 bytes that the machine keeps until the `RETURN`. There is no automatic fix: it would change line numbers.',
  check({ program }, report) {
    if (program.flow.open) return;
    const callers = new Map<number, typeof program.flow.jumps>();
    for (const jump of program.flow.jumps) {
      if (!program.flow.reachable[jump.step.index]) continue;
      for (const target of jump.targets)
        callers.set(target, [...(callers.get(target) ?? []), jump]);
    }
    for (const [target, jumps] of callers) {
      const [{ kind, step, node, targets }] = jumps;
      if (jumps.length > 1 || kind !== 'GOSUB' || targets.length > 1 || node === undefined)
        continue;
      if (step.conditions.length > 0 || target >= program.steps.length) continue;
      // A line before it that runs on into it calls it too, in its way.
      const runsOn =
        program.flow.next[target - 1]?.includes(target) && program.flow.reachable[target - 1];
      if (runsOn) continue;
      const bytes = RETURN_LINE + lineSize(step.line);
      report(
        { start: step.statement!.start, end: node.end },
        {
          message: `only this GOSUB calls line ${program.steps[target].line.number}: in its place the lines would save ${count(bytes, 'byte')}`,
          why: 'neither the GOSUB nor the RETURN would be needed, nor 2 bytes of the stack',
          help: 'move the lines here, if the numbers allow it',
          bytes,
        },
      );
    }
  },
};
