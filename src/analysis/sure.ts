/**
 * The lines that every run comes to, taking it that a loop with a way out is left at some time:
 * what they do is certain, and so belongs into the lower bound of a budget.
 */
import type { Flow } from './flow.js';
import { connectedParts, dominators, turned } from './graph.js';

/** For each line: does every run come to it? */
export function sureLines(flow: Flow): boolean[] {
  const sure = flow.steps.map(() => false);
  if (flow.length === 0 || flow.open) return sure;
  const after = linesAfter(flow);
  const waiting = [flow.entry];
  while (waiting.length > 0) {
    let index = waiting.pop()!;
    while (index >= 0 && index < flow.length && !sure[index]) {
      sure[index] = true;
      const { conditions } = flow.steps[index];
      if (conditions.length === 0 && flow.calls[index].length === 1) {
        waiting.push(flow.calls[index][0]);
      }
      index = after[index];
    }
  }
  return sure;
}

/** With these a run, or a subroutine, ends, though an IF before them may let it go on. */
const STOPS: ReadonlySet<string> = new Set(['STOP', 'RETURN', 'NEW', 'LOAD']);

/** For each line the next one through which every way from it to an end goes. */
function linesAfter(flow: Flow): Int32Array {
  const end = flow.length;
  const ends = (index: number): boolean =>
    flow.next[index].length === 0 || STOPS.has(flow.steps[index].statement?.kind ?? '');
  const edges = [...flow.next.map((next, index) => (ends(index) ? [...next, end] : next)), []];
  for (const index of closingLines(edges)) edges[index] = [...edges[index], end];
  return dominators(turned(edges), end);
}

/**
 * In a part of the program that is never left, such as the main loop of a game, the lines that
 * close it count as its end.
 */
function closingLines(edges: readonly (readonly number[])[]): number[] {
  const part = connectedParts(edges);
  const left = new Set<number>();
  edges.forEach((next, from) => {
    if (next.some((to) => part[to] !== part[from]) || next.length === 0) left.add(part[from]);
  });
  const closing: number[] = [];
  edges.forEach((next, from) => {
    if (!left.has(part[from]) && next.some((to) => to <= from)) closing.push(from);
  });
  return closing;
}
