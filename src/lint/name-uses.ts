/** Every place where the name of a variable is written. */
import type { Variable } from '../../grammar/tree.js';
import { baseVariable } from '../../grammar/visit.js';
import type { NamedVariable } from '../analysis/names.js';
import type { Step } from '../analysis/steps.js';

export interface NameUse {
  readonly node: Variable;
  readonly step: Step;
  /** Is it written within the text of a VAL? Then its offsets do not point into the listing. */
  readonly inText: boolean;
}

/** Are spaces stored within the name here? */
export const hasSpaces = ({ start, end, name }: Variable): boolean => end - start !== name.length;

/** The places in the order of the text. */
export function nameUses(variable: NamedVariable): NameUse[] {
  const uses: NameUse[] = [...variable.readings];
  for (const { target, step } of variable.settings) {
    const node = baseVariable(target);
    if (node !== undefined) uses.push({ node, step, inText: false });
  }
  return uses.sort((a, b) => a.step.index - b.step.index || a.node.start - b.node.start);
}
