// Valid: a program that loads and runs in the RAM, whatever the run brings.
// Not valid: one that is too large to be loaded, that runs out of room, or that may.

import { NO_ROOM } from '../../image/build.js';
import type { Budget } from '../../memory/budget.js';
import { verdictText } from '../../memory/verdict.js';
import type { LintContext, Rule } from '../rule.js';

export const noRoom: Rule = {
  name: NO_ROOM,
  kind: 'mistake',
  severity: 'error',
  summary: 'a program that does not load in the RAM, or that runs out of room',
  page: 'An image that is too large runs over the machine stack while it loads, and the machine crashes; a program that asks for more than there is while it runs stops with report 4. Where that depends on the run this is a warning: `fit` says what it hangs on, `fit --rehearse` measures it.',
  check(context, report) {
    const { budget } = context;
    const { verdict, tooLarge } = budget;
    if (tooLarge !== undefined) report(tooLarge, { ...tooLarge, why: tooLarge.why ?? '' });
    else if (verdict.kind !== 'runs') {
      const isOpen = verdict.kind === 'may run';
      report(placeOf(context), {
        severity: isOpen ? 'warning' : 'error',
        message: `the program ${verdictText(verdict)}`,
        why:
          causeOf(budget).why ??
          'what the machine asks for beyond its RAM ends the program with report 4',
        help: isOpen
          ? '`listwright fit` says what it hangs on, and `fit --rehearse` measures it'
          : '`listwright lint --fix --until-fits` saves what it can',
      });
    }
  },
};

/** What makes it so large: where that depends on the run, the widest bounds; else the largest variable. */
function causeOf({ areas, variables, verdict }: Budget): { line?: number; why?: string } {
  if (verdict.kind === 'may run') {
    const gap = ({ low, high }: { low: number; high: number }): number => high - low;
    const [widest] = areas
      .filter(({ line }) => line !== undefined)
      .sort((a, b) => gap(b) - gap(a) || b.high - a.high);
    return { line: widest?.line, why: widest?.why && `${widest.area}: ${widest.why}` };
  }
  const [largest] = [...variables].sort((a, b) => b.low - a.low);
  return {
    line: largest?.line,
    why: largest && `the largest variable, ${largest.name}, takes ${largest.low} bytes`,
  };
}

function placeOf({ program, budget }: LintContext) {
  const { line } = causeOf(budget);
  const at = program.steps.find((step) => step.line.number === line) ?? program.steps[0];
  const { start, end } = at?.statement ?? at?.line ?? { start: 0, end: 1 };
  return { start, end: Math.min(end, start + 80) };
}
