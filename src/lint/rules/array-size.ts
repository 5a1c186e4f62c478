// Valid: DIM A(10) where A(10) is used, and an array that fits the RAM.
// Not valid: DIM A(50) where no subscript is above 10, or DIM A(300) on 1K.

import type { DimStatement } from '../../../grammar/tree.js';
import { nameOfVariable } from '../../analysis/names.js';
import { count } from '../../listing/print.js';
import { wholeOf } from '../../machine/arithmetic/operations.js';
import { arraySize, elementSize, LARGEST_DIMENSION } from '../../machine/variables.js';
import { elementUses } from '../elements.js';
import type { LintContext, Rule } from '../rule.js';

export const arrayExtent: Rule = {
  name: 'array-size',
  kind: 'memory',
  severity: 'note',
  summary: 'DIM larger than what is used of the array, or than the RAM',
  page: 'An element of an array of numbers takes 5 bytes, of an array of strings 1 a character, used or not. A `DIM` that the RAM cannot hold is an error: the machine stops with report 4.',
  check(context, report) {
    for (const step of context.program.steps) {
      const { statement } = step;
      if (statement?.kind !== 'DIM') continue;
      const sizes = statement.sizes.map((size) => wholeOf(context.constant(size) ?? Number.NaN));
      // What DIM does not take at all is for `argument-range` to say.
      if (!sizes.every((size) => size >= 1 && size <= LARGEST_DIMENSION)) continue;
      const element = elementSize(statement.target.type);
      const bytes = arraySize(sizes, element);
      if (bytes > context.ram) {
        report(statement, {
          severity: 'error',
          message: `${statement.target.name} would take ${bytes} bytes: more than the whole RAM of ${context.ram}`,
          why: 'the machine stops here with report 4: no room in memory',
          help: 'make it smaller, or say .ram for a larger machine',
        });
        continue;
      }
      const used = usedSizes(statement, sizes, context);
      const spare = used === undefined ? 0 : bytes - arraySize(used, element);
      if (used === undefined || spare <= 0) continue;
      report(statement, {
        message: `${count(spare, 'byte')} of ${statement.target.name} ${spare === 1 ? 'is' : 'are'} never used: ${statement.target.name}(${used.join(',')}) would do`,
        why: 'an array takes its whole size from its DIM on, used or not',
        bytes: spare,
      });
    }
  },
};

/** The largest subscripts that the listing uses; undefined where it does not tell. */
function usedSizes(
  { target }: DimStatement,
  sizes: readonly number[],
  { program }: LintContext,
): number[] | undefined {
  const name = nameOfVariable(target, true);
  const variable = program.names.all.get(name);
  if (variable === undefined || program.names.unknownReads.length > 0) return undefined;
  if (variable.settings.filter((setting) => setting.kind === 'DIM').length > 1) return undefined;
  if (variable.readings.some((reading) => reading.whole === undefined)) return undefined;
  const used = sizes.map(() => 0);
  const uses = elementUses(variable);
  if (uses.length === 0) return undefined;
  for (const { whole } of uses) {
    // A row of strings used whole, or a slice, counts to its end.
    for (let at = 0; at < sizes.length; at++) {
      const subscript = whole.subscripts[at];
      const last =
        subscript === undefined || subscript.kind === 'range'
          ? sizes[at]
          : program.ranges.number(subscript).high;
      used[at] = Math.min(sizes[at], Math.max(used[at], wholeOf(last)));
    }
  }
  return used.map((size) => Math.max(1, size));
}
