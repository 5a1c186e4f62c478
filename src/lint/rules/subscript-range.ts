// Valid: DIM A(5) and A(1) to A(5), with as many subscripts as the DIM has.
// Not valid: A(0), A(6), A(1,2).
import type { Expression, Range, Subscripted } from '../../../grammar/tree.js';
import type { NamedVariable } from '../../analysis/names.js';
import type { Step } from '../../analysis/steps.js';
import { count } from '../../listing/print.js';
import { numberText } from '../../machine/arithmetic/digits.js';
import { wholeOf } from '../../machine/arithmetic/operations.js';
import { elementUses } from '../elements.js';
import { loopValues } from '../loop-values.js';
import type { LintContext, Report, Rule } from '../rule.js';

const WHY = 'the machine stops here with report 3: subscript out of range';
const WHY_NEGATIVE = 'the machine stops here with report B: a subscript has no sign';

export const subscriptRange: Rule = {
  name: 'subscript-range',
  kind: 'mistake',
  severity: 'error',
  summary: 'a subscript outside the DIM of its array',
  page: 'Subscripts count from 1 up to what the `DIM` says, and there must be as many as it has; an array of strings may have one fewer, for the whole string. The machine stops with report 3.',
  check(context, report) {
    const { program } = context;
    for (const variable of program.names.all.values()) {
      const sizes = dimensions(variable, context);
      if (sizes === undefined) continue;
      for (const { whole, step } of elementUses(variable)) {
        checkElement(whole, step, sizes, variable.name, context, report);
      }
    }
  },
};

/** The largest that the DIMs make each dimension; undefined where they differ in number, or none is there. */
function dimensions({ name, settings }: NamedVariable, context: LintContext): number[] | undefined {
  if (context.program.saved.some((saved) => saved.name === name.replace('()', '')))
    return undefined;
  let sizes: number[] | undefined;
  for (const { step, kind } of settings) {
    if (kind !== 'DIM') {
      // A plain string of the same name has other subscripts.
      if (
        step.statement?.kind === 'LET' &&
        step.statement.target.kind === 'variable' &&
        sizes === undefined
      )
        return undefined;
      continue;
    }
    if (step.statement?.kind !== 'DIM') continue;
    const found = step.statement.sizes.map((size) =>
      wholeOf(context.program.ranges.number(size).high),
    );
    if (sizes !== undefined && sizes.length !== found.length) return undefined;
    sizes = sizes === undefined ? found : sizes.map((size, at) => Math.max(size, found[at]));
  }
  return sizes;
}

function checkElement(
  whole: Subscripted,
  step: Step,
  sizes: readonly number[],
  name: string,
  context: LintContext,
  report: Report,
): void {
  const { subscripts } = whole;
  const least = name.endsWith('$') ? sizes.length - 1 : sizes.length;
  if (subscripts.length < least || subscripts.length > sizes.length) {
    report(whole, {
      message: `${name.replace('()', '')} has ${count(sizes.length, 'dimension')}, and here ${subscripts.length === 1 ? 'is' : 'are'} ${count(subscripts.length, 'subscript')}`,
      why: WHY,
      help: `give ${sizes.length}`,
    });
    return;
  }
  subscripts.forEach((subscript, at) => {
    for (const end of endsOf(subscript)) {
      const value = outside(end, step, sizes[at], context);
      if (value === undefined) continue;
      report(end, {
        message: `${numberText(value)} is no subscript of ${name.replace('()', '')}: they go from 1 ${upTo(sizes[at])}`,
        why: value < 0 ? WHY_NEGATIVE : WHY,
        help: value < 1 ? 'count from 1' : 'make the DIM larger, or the subscript smaller',
      });
      return;
    }
  });
}

const upTo = (size: number): string => (Number.isFinite(size) ? `to ${size}` : 'up');

/** A slice may be empty, from anywhere: only its far end says something, and only if it is one. */
function endsOf(subscript: Expression | Range): Expression[] {
  if (subscript.kind !== 'range') return [subscript];
  return subscript.to === undefined ? [] : [subscript.to];
}

/** A value that the subscript certainly takes and that lies outside. */
function outside(
  node: Expression,
  step: Step,
  size: number,
  context: LintContext,
): number | undefined {
  const { low, high } = context.program.ranges.number(node);
  if (wholeOf(low) > size) return wholeOf(low);
  if (wholeOf(high) < 1) return wholeOf(high);
  return loopValues(context.program, node, step).find((value) => {
    const rounded = wholeOf(value);
    return rounded < 1 || rounded > size;
  });
}
