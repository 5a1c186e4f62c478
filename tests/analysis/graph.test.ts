import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { connectedParts, dominators, turned } from '../../src/analysis/graph.js';

const RUNS = process.env.FUZZ ? 20_000 : 200;

type Graph = readonly (readonly number[])[];

/** Graphs of up to a dozen nodes, with edges to themselves and edges twice. */
const graphs: fc.Arbitrary<Graph> = fc
  .integer({ min: 1, max: 12 })
  .chain((count) =>
    fc.array(fc.array(fc.nat(count - 1), { maxLength: 3 }), { minLength: count, maxLength: count }),
  );

/** The nodes that paths from `root` lead to which go round one node. */
function reached(edges: Graph, root: number, without = -1): Set<number> {
  const found = new Set<number>();
  const waiting = root === without ? [] : [root];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    if (found.has(node)) continue;
    found.add(node);
    waiting.push(...edges[node].filter((to) => to !== without));
  }
  return found;
}

describe('dominators', () => {
  it('are the nearest nodes without which there is no path', () => {
    fc.assert(
      fc.property(graphs, (edges) => {
        const all = reached(edges, 0);
        const without = edges.map((_, node) => reached(edges, 0, node));
        const needed = (node: number): number[] =>
          [...all].filter((one) => one !== node && !without[one].has(node));
        const expected = edges.map((_, node) => {
          if (node === 0 || !all.has(node)) return -1;
          const above = needed(node);
          // Of those before a node, which stand in a row, the nearest needs all the others.
          return above.find((one) => needed(one).length === above.length - 1);
        });
        expect([...dominators(edges, 0)]).toEqual(expected);
      }),
      { seed: 11, numRuns: RUNS },
    );
  });

  it('are found at once where a long row of nodes leads back to one near its beginning', () => {
    const count = 20_000;
    const edges = Array.from({ length: count }, (_, at) => (at + 1 < count ? [at + 1, 8] : [8]));
    const start = process.cpuUsage();
    const found = dominators(edges, 0);
    const { user, system } = process.cpuUsage(start);
    expect([found[8], found[9], found[count - 1]]).toEqual([0, 8, count - 2]);
    // Ten times what it takes; with the square of their number it takes much longer.
    expect((user + system) / 1e6).toBeLessThan(0.25);
  });
});

it('connected parts hold the nodes that lead to each other, and edges lead to lower ones', () => {
  fc.assert(
    fc.property(graphs, (edges) => {
      const part = connectedParts(edges);
      const from = edges.map((_, node) => reached(edges, node));
      const isRight = (a: number, b: number): boolean =>
        (part[a] === part[b]) === (from[a].has(b) && from[b].has(a)) &&
        (part[b] <= part[a] || !from[a].has(b));
      const pairs = edges.flatMap((_, a) => edges.map((_, b) => [a, b]));
      expect(pairs.filter(([a, b]) => !isRight(a, b))).toEqual([]);
    }),
    { seed: 12, numRuns: RUNS },
  );
});

it('edges turned are the same ones the other way round, in order', () => {
  expect(turned([[1, 2, 1], [0], [2]])).toEqual([[1], [0, 0], [0, 2]]);
});
