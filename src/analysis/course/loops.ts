/** Where FOR and NEXT lead. */
import type { ForStatement } from '../../../grammar/tree.js';
import { FOR_VARIABLE_SIZE } from '../../machine/variables.js';
import { range, sum } from '../expression-ranges.js';
import type { Flow } from '../flow.js';
import type { Name } from '../names.js';
import { ownExpressions } from '../steps.js';
import { type Counting, split } from './counting.js';
import { drawsOfAll } from './lots/lot-values.js';
import { beginLots, type Turned, turnLots } from './lots/parting.js';
import type { State } from './state.js';

/** A line, by its index, and the state that comes to it. */
export interface Lead {
  readonly to: number;
  readonly state: State;
}

/** Where the FOR of a line leads. Changes the state: it holds the loop's variable. */
export function begin(index: number, statement: ForStatement, state: State, flow: Flow): Lead[] {
  const { name } = statement.variable;
  const from = state.number(statement.from);
  const counting: Counting = {
    limit: state.number(statement.to),
    step: statement.step === undefined ? range(1) : state.number(statement.step),
    bodies: [index + 1],
  };
  const held = { size: FOR_VARIABLE_SIZE, number: from, counting };
  const behind = behindLoop(index, name, flow);
  state.lots?.forgetLimit(name);
  const turned = beginLots(statement, state, held);
  if (turned !== undefined) return leads(turned, counting.bodies, behind);
  state.draw(drawsOfAll(ownExpressions(statement)));
  const { within, past } = split(from, counting);
  const skipped = past && state.copy();
  skipped?.hold(name, { ...held, number: past });
  state.hold(name, { ...held, number: within ?? from });
  return leads({ within: within && state, past: skipped }, counting.bodies, behind);
}

/** Where a loop without a pass goes on: behind a NEXT of its own, whether or not an IF is before it. */
function behindLoop(index: number, name: Name, flow: Flow): number[] {
  const found: number[] = [];
  for (let at = index + 1; at < flow.length; at++) {
    const { statement, conditions } = flow.steps[at];
    if (statement?.kind !== 'NEXT' || statement.variable.name !== name) continue;
    found.push(at + 1);
    if (conditions.length === 0) break;
  }
  return found;
}

/** Where the NEXT of a line leads. Changes the state. */
export function turn(index: number, name: Name, state: State): Lead[] {
  const held = state.variables.get(name);
  // NEXT without FOR: the run ends here.
  if (held?.counting === undefined || held.number === undefined) return [];
  const { bodies } = held.counting;
  const turned = turnLots(name, state);
  if (turned !== undefined) return leads(turned, bodies, [index + 1]);
  const { within, past } = split(sum(held.number, held.counting.step), held.counting);
  const again = within && state.copy();
  again?.hold(name, { ...held, number: within });
  if (past !== undefined) state.hold(name, { ...held, number: past });
  return leads({ within: again, past: past && state }, bodies, [index + 1]);
}

function leads(
  { within, past }: Turned,
  bodies: readonly number[],
  behind: readonly number[],
): Lead[] {
  return [
    ...(past === undefined ? [] : behind.map((to) => ({ to, state: past }))),
    ...(within === undefined ? [] : bodies.map((to) => ({ to, state: within }))),
  ];
}
