/** How deep GOSUBs stand within each other. */
import type { Line } from '../../grammar/tree.js';
import type { Flow } from './flow.js';
import { connectedParts } from './graph.js';

export interface CallDepth {
  /** The most GOSUBs that can be open at once; Infinity where nothing bounds them. */
  readonly deepest: number;
  /** The line with the innermost of them, or with one that nothing bounds. */
  readonly line?: Line;
}

/**
 * The longest chain of calls from the first line. A GOSUB from which the machine can come to the
 * same GOSUB again without a RETURN has no bound.
 */
export function callDepth(flow: Flow): CallDepth {
  const { length } = flow;
  // Two nodes more: the end of the program, and "any line", so that computed jumps cost one edge each.
  const any = length + 1;
  const inside = (targets: readonly number[]): number[] => targets.filter((to) => to < length);
  const edges: (readonly number[])[] = flow.steps.map(({ index }) => {
    const next = flow.next[index];
    const calls = flow.calls[index];
    const open = flow.anywhere[index] || flow.callsAnything[index];
    if (calls.length === 0 && !open) return next;
    return [...next, ...inside(calls), ...(open ? [any] : [])];
  });
  const hasAny = edges.some((next) => next.includes(any));
  edges.push([], hasAny ? flow.steps.map((step) => step.index) : []);
  const part = connectedParts(edges);
  const calls = flow.steps.filter(
    ({ index }) =>
      flow.reachable[index] && (flow.calls[index].length > 0 || flow.callsAnything[index]),
  );
  for (const { index, line } of calls) {
    const targets = flow.callsAnything[index] ? [any] : inside(flow.calls[index]);
    if (targets.some((to) => part[to] === part[index])) return { deepest: Infinity, line };
  }
  return longestChain(flow, edges, part, any);
}

function longestChain(
  flow: Flow,
  edges: readonly (readonly number[])[],
  part: Int32Array,
  any: number,
): CallDepth {
  const count = part.reduce((highest, one) => Math.max(highest, one), 0) + 1;
  const depth = new Int32Array(count);
  const line: (Line | undefined)[] = new Array(count);
  const nodes = edges.map((_, node) => node).filter((node) => flow.reachable[node] ?? true);
  // Parts are numbered backwards: what a part leads to has a lower number.
  nodes.sort((a, b) => part[a] - part[b]);
  for (const node of nodes) {
    const called = flow.calls[node];
    for (const to of edges[node]) {
      const isCall = called?.includes(to) || (flow.callsAnything[node] && to === any);
      const found = depth[part[to]] + (isCall ? 1 : 0);
      if (found <= depth[part[node]]) continue;
      depth[part[node]] = found;
      line[part[node]] = line[part[to]] ?? flow.steps[node]?.line;
    }
  }
  const start = part[flow.entry] ?? 0;
  return { deepest: flow.length === 0 ? 0 : depth[start], line: line[start] };
}
