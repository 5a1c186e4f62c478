// Valid: STOP or GOTO before a subroutine, so that only GOSUB comes to it.
// Not valid: a program that runs on into its subroutine and comes to RETURN.
import type { Rule } from '../rule.js';

export const returnWithoutGosub: Rule = {
  name: 'return-without-gosub',
  kind: 'mistake',
  severity: 'warning',
  summary: 'RETURN that the program can come to without a GOSUB',
  page: 'The machine stops with report 7. Most often the `STOP` before the subroutines is missing. Where every run comes to it this is an error, else a warning.',
  check({ program }, report) {
    const { flow, steps } = program;
    if (flow.open) return;
    const outside = linesOutside(program);
    const surely = alwaysOutside(program, outside);
    for (const { index, statement, conditions } of steps) {
      if (statement?.kind !== 'RETURN' || !outside[index]) continue;
      const certain = surely[index] && conditions.length === 0;
      report(statement, {
        severity: certain ? 'error' : 'warning',
        message: certain
          ? 'the program comes to this RETURN without a GOSUB'
          : 'the program can come to this RETURN without a GOSUB',
        why: 'the machine stops here with report 7',
        help: 'end the main program with STOP before the subroutine begins',
      });
    }
  },
};

/** Lines that the machine can come to while no GOSUB is open. */
function linesOutside({ flow }: Parameters<Rule['check']>[0]['program']): boolean[] {
  const outside = flow.steps.map(() => false);
  const waiting = [flow.entry];
  while (waiting.length > 0) {
    const index = waiting.pop()!;
    if (index >= flow.length || outside[index]) continue;
    outside[index] = true;
    waiting.push(...flow.next[index]);
  }
  return outside;
}

/** Lines that every run comes to outside any GOSUB: those that no call leads to, and that are sure. */
function alwaysOutside(
  { flow, sure }: Parameters<Rule['check']>[0]['program'],
  outside: readonly boolean[],
): boolean[] {
  // From the first line on, as long as there is one way on.
  const found = flow.steps.map(() => false);
  let index = flow.entry;
  while (index < flow.length && outside[index] && sure[index] && !found[index]) {
    found[index] = true;
    const next = flow.next[index];
    if (next.length !== 1) break;
    [index] = next;
  }
  return found;
}
