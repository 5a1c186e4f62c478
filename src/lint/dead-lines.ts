/** Lines that no run comes to, and nobody begins by hand. */
import type { Program } from '../analysis/program.js';

/** For each line, by its position: is it never run? No line is where that cannot be told. */
export function deadLines({ flow, steps }: Program): boolean[] {
  if (flow.open) return steps.map(() => false);
  const byHand = reachedByHand({ flow, steps });
  return steps.map(({ index }) => !flow.reachable[index] && !byHand[index]);
}

/** What a SAVE, or the CONT after a STOP that the run comes to, leads to. */
function reachedByHand({ flow, steps }: Pick<Program, 'flow' | 'steps'>): boolean[] {
  const kindAt = (index: number): string | undefined => steps[index]?.statement?.kind;
  const from = steps.map(({ index }) => index).filter((index) => kindAt(index) === 'SAVE');
  for (;;) {
    const reached = flow.reach(from);
    const behind = steps
      .map(({ index }) => index)
      .filter((index) => kindAt(index) === 'STOP' && (flow.reachable[index] || reached[index]))
      .map((index) => index + 1)
      .filter((index) => index < steps.length && !flow.reachable[index] && !reached[index]);
    if (behind.length === 0) return reached;
    from.push(...behind);
  }
}
