/** Values that the variable of a FOR loop certainly takes in a line of its loop. */
import type { Expression } from '../../grammar/tree.js';
import { single } from '../analysis/expression-ranges.js';
import type { Loop } from '../analysis/flow.js';
import type { Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';

/**
 * The first and the last value, where the expression is just the variable of a loop of known ends
 * whose lines, up to this one, all run in each round.
 */
export function loopValues(program: Program, node: Expression, step: Step): number[] {
  if (node.kind !== 'variable' || step.conditions.length > 0) return [];
  const loop = loopAround(program, node.name, step);
  const statement = loop?.start.statement;
  if (loop === undefined || statement?.kind !== 'FOR' || !isWalkedThrough(program, loop)) return [];
  const from = single(program.ranges.number(statement.from));
  const to = single(program.ranges.number(statement.to));
  const by = statement.step === undefined ? 1 : single(program.ranges.number(statement.step));
  if (from === undefined || to === undefined || by === undefined || by === 0) return [];
  const rounds = Math.floor((to - from) / by);
  return rounds < 0 ? [] : [from, from + rounds * by];
}

function loopAround({ flow, names }: Program, variable: string, step: Step): Loop | undefined {
  // One loop alone sets it, or its value is not known.
  const settings = names.all.get(variable)?.settings ?? [];
  if (settings.length !== 2) return undefined;
  const begins = settings.find(({ kind }) => kind === 'FOR');
  const loop = begins && flow.loopAt.get(begins.step.index);
  if (loop?.end === undefined || loop.end !== loop.last) return undefined;
  if (loop.end.conditions.length > 0) return undefined;
  const inside = step.index > loop.start.index && step.index < loop.end.index;
  return inside ? loop : undefined;
}

/** Does nothing between FOR and NEXT end the run, or lead elsewhere than to the next line? */
function isWalkedThrough({ flow }: Program, { start, end }: Loop): boolean {
  for (let index = start.index + 1; index < end!.index; index++) {
    const { statement } = flow.steps[index];
    // A subroutine may stop, and so may an IF.
    if (flow.calls[index].length > 0 || statement?.kind === 'STOP') return false;
    const next = flow.next[index];
    const inner = statement?.kind === 'FOR' || statement?.kind === 'NEXT';
    if (!inner && (next.length !== 1 || next[0] !== index + 1)) return false;
    if (inner && next.some((to) => to <= start.index || to > end!.index)) return false;
  }
  return flow.reachable[start.index];
}
