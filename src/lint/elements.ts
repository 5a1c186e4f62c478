/** Where elements and slices of a variable stand. */
import type { Subscripted } from '../../grammar/tree.js';
import type { NamedVariable } from '../analysis/names.js';
import type { Step } from '../analysis/steps.js';

export interface ElementUse {
  readonly whole: Subscripted;
  readonly step: Step;
}

/** Elements read and set, those within texts of VAL too. */
export function elementUses({ readings, settings }: NamedVariable): ElementUse[] {
  const uses: ElementUse[] = [];
  for (const { whole, step } of readings) if (whole !== undefined) uses.push({ whole, step });
  for (const { target, step } of settings) {
    if (target.kind === 'subscripted') uses.push({ whole: target, step });
  }
  return uses;
}
