/** Whether one line always runs before another. */
import type { Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';

/** Does every way from the program's beginning to `later` go through `first`, and past its IF? */
export function comesFirst({ flow }: Program, first: Step, later: Step): boolean {
  if (flow.open || first.conditions.length > 0) return false;
  const seen = new Set<number>([first.index]);
  const waiting = [flow.entry];
  while (waiting.length > 0) {
    const index = waiting.pop()!;
    if (index >= flow.length || seen.has(index)) continue;
    if (index === later.index) return false;
    seen.add(index);
    waiting.push(...flow.next[index], ...flow.calls[index]);
  }
  return true;
}
