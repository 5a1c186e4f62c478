/** A budget with what a rehearsal measured in the place of its bounds: for `fit --rehearse`. */
import { type Budget, placed } from '../../memory/budget.js';
import { room, verdictOf } from '../../memory/verdict.js';
import { type LedgerArea, STACK_DOUBT } from '../state/areas.js';
import type { Measured } from './measured.js';

/** The areas whose sizes depend on the run. */
const MEASURED_AREAS: readonly LedgerArea[] = [
  'display',
  'variables',
  'workspace',
  'calculator stack',
  'GOSUB stack',
];

/**
 * The budget with the sizes that were measured. They hold for that run: another input may need
 * more. What the machine stack itself needs stays known only between its bounds.
 */
export function measuredBudget(budget: Budget, measured: Measured): Budget {
  const { ram } = budget;
  const areas = budget.areas.map((area) => {
    const name = MEASURED_AREAS.find((one) => one === area.area);
    if (name === undefined) return area;
    // The ledger counts the byte that ends the variables with them; a budget has it apart.
    const size = measured.largest[name] - (name === 'variables' ? 1 : 0);
    return { ...area, low: size, high: size, line: measured.peak.line, why: undefined };
  });
  const variables = budget.variables.map((variable) => {
    const found = measured.variables.get(variable.name);
    return found === undefined ? variable : { ...variable, low: found.bytes, high: found.bytes };
  });
  const { bytes } = measured.peak;
  // What loads runs: a run that ended early needed no less than it took to get there.
  const { loads } = budget;
  const runs = room(ram, {
    low: Math.max(loads.low, bytes - STACK_DOUBT),
    high: Math.max(loads.high, bytes),
  });
  const { whole, line } = measured;
  return {
    ...budget,
    areas: placed(areas, ram),
    variables,
    runs,
    verdict: verdictOf(ram, loads, runs, { on: 'rehearsal', whole, line }),
  };
}
