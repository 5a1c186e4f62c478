/** Jumps between the inside and the outside of FOR loops. */
import type { Jump, Loop } from '../analysis/flow.js';
import type { Program } from '../analysis/program.js';

export interface LoopJump {
  readonly jump: Jump;
  readonly loop: Loop;
  readonly target: number;
  readonly way: 'in' | 'out';
}

/**
 * GOTOs with a known target of which one end is between a FOR and its last NEXT and the other is
 * not; for each the innermost loop that it crosses. To come to the FOR itself, or to leave behind
 * the NEXT that it would come to anyway, is no crossing.
 */
export function loopJumps(program: Program): LoopJump[] {
  const { flow } = program;
  const enclosing = enclosingLoops(program);
  const found: LoopJump[] = [];
  for (const jump of flow.jumps) {
    if (jump.kind !== 'GOTO' || jump.targets.length !== 1 || jump.node === undefined) continue;
    const [target] = jump.targets;
    if (target >= flow.length) continue;
    const from = enclosing[jump.step.index];
    const to = enclosing[target];
    const into = to.find((loop) => target !== loop.start.index && !from.includes(loop));
    if (into !== undefined) found.push({ jump, loop: into, target, way: 'in' });
    const outOf = from.find((loop) => !to.includes(loop) && jump.step !== loop.start);
    if (outOf !== undefined) found.push({ jump, loop: outOf, target, way: 'out' });
  }
  return found;
}

/** For each line the loops that it stands in, innermost first. */
function enclosingLoops({ flow }: Program): Loop[][] {
  let open: Loop[] = [];
  return flow.steps.map(({ index }) => {
    const starting = flow.loopAt.get(index);
    if (starting?.last !== undefined) open = [starting, ...open];
    const here = open;
    if (open.some((loop) => loop.last!.index === index)) {
      open = open.filter((loop) => loop.last!.index !== index);
    }
    return here;
  });
}
