/**
 * The loops of a program, one within another, however they are made: by FOR and NEXT, or by GOTO.
 * Each part of the flow that leads back to itself is a loop; without its head, what still leads
 * back to itself is a loop within it (F. Bourdoncle, "Efficient chaotic iteration strategies with
 * widenings", 1993).
 */
import type { Flow } from '../flow.js';
import { connectedParts } from '../graph.js';

export interface Nesting {
  /** For each line the heads of the loops that it stands in, the outermost first. */
  readonly heads: readonly (readonly number[])[];
  /** For each line its place in an order in which every edge but those to a head leads on. */
  readonly place: Int32Array;
}

/** Loops that stand deeper are taken as one with the loop that they stand in. */
const DEEPEST = 12;
const NONE: readonly number[] = [];

export function nestingOf(edges: readonly (readonly number[])[]): Nesting {
  const heads: (readonly number[])[] = edges.map(() => NONE);
  const place = new Int32Array(edges.length);
  const local = new Int32Array(edges.length).fill(-1);
  let placed = 0;

  const arrange = (nodes: readonly number[], around: readonly number[]): void => {
    for (const part of partsOf(nodes)) {
      const [first] = part;
      const leadsBack = part.length > 1 || edges[first].includes(first);
      if (!leadsBack || around.length >= DEEPEST) {
        for (const node of part) {
          heads[node] = around;
          place[node] = placed++;
        }
        continue;
      }
      const head = headOf(part);
      const within = [...around, head];
      heads[head] = within;
      place[head] = placed++;
      arrange(
        part.filter((node) => node !== head),
        within,
      );
    }
  };

  /** The connected parts of some lines, each before those that it leads to; lines in their order. */
  const partsOf = (nodes: readonly number[]): number[][] => {
    nodes.forEach((node, at) => {
      local[node] = at;
    });
    const inner = nodes.map((node) => edges[node].map((to) => local[to]).filter((to) => to >= 0));
    for (const node of nodes) local[node] = -1;
    const part = connectedParts(inner);
    const count = part.reduce((most, one) => Math.max(most, one), -1) + 1;
    const parts: number[][] = Array.from({ length: count }, () => []);
    nodes.forEach((node, at) => {
      parts[count - 1 - part[at]].push(node);
    });
    return parts;
  };

  /** Where a loop is entered from outside: what a line further up leads to, else its first line. */
  const headOf = (part: readonly number[]): number => {
    const within = new Set(part);
    const entries = new Set<number>();
    for (const node of before(part)) {
      for (const to of edges[node]) if (within.has(to)) entries.add(to);
    }
    return part.find((node) => entries.has(node)) ?? part[0];
  };

  /** The lines next to a part, outside it, from which it may be entered. */
  const before = (part: readonly number[]): number[] => {
    const within = new Set(part);
    return part.flatMap((node) => sources[node].filter((from) => !within.has(from)));
  };

  const sources: number[][] = edges.map(() => []);
  edges.forEach((next, from) => {
    for (const to of next) sources[to].push(from);
  });
  arrange(
    edges.map((_, node) => node),
    NONE,
  );
  return { heads, place };
}

/** Lines at which ways can meet: heads of loops, what several lines lead to, and both ends of calls. */
export function meetingPoints(
  flow: Flow,
  next: readonly (readonly number[])[],
  { heads }: Nesting,
): boolean[] {
  const ways = new Int32Array(flow.length + 1);
  for (const targets of next) for (const to of targets) ways[to]++;
  for (const { index } of flow.steps) {
    for (const to of flow.calls[index]) ways[to] += 2;
    if (flow.calls[index].length > 0) ways[index + 1] += 2;
  }
  return flow.steps.map(({ index }) => ways[index] > 1 || heads[index].at(-1) === index);
}
