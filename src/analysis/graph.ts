/** Strongly connected parts and dominators, for graphs of lines. All take time linear in the edges, or nearly. */

/** The part of each node: parts are numbered so that every edge leads to an equal or lower number. */
export function connectedParts(edges: readonly (readonly number[])[]): Int32Array {
  const count = edges.length;
  const part = new Int32Array(count).fill(-1);
  const order = new Int32Array(count).fill(-1);
  const lowest = new Int32Array(count);
  /** How many edges of each node were followed. */
  const followed = new Int32Array(count);
  const open: number[] = [];
  let visited = 0;
  let parts = 0;
  for (let root = 0; root < count; root++) {
    if (order[root] >= 0) continue;
    const path = [root];
    order[root] = lowest[root] = visited++;
    open.push(root);
    while (path.length > 0) {
      const node = path[path.length - 1];
      if (followed[node] < edges[node].length) {
        const to = edges[node][followed[node]++];
        if (order[to] < 0) {
          order[to] = lowest[to] = visited++;
          open.push(to);
          path.push(to);
        } else if (part[to] < 0) lowest[node] = Math.min(lowest[node], order[to]);
        continue;
      }
      path.pop();
      if (path.length > 0) {
        const above = path[path.length - 1];
        lowest[above] = Math.min(lowest[above], lowest[node]);
      }
      if (lowest[node] !== order[node]) continue;
      for (let member = -1; member !== node; ) {
        member = open.pop()!;
        part[member] = parts;
      }
      parts++;
    }
  }
  return part;
}

/** The same edges, each the other way round. */
export function turned(edges: readonly (readonly number[])[]): number[][] {
  const counts = new Int32Array(edges.length);
  for (const next of edges) for (const to of next) counts[to]++;
  const back = Array.from(counts, (count) => new Array<number>(count));
  for (let from = edges.length - 1; from >= 0; from--) {
    for (const to of edges[from]) back[to][--counts[to]] = from;
  }
  return back;
}

/**
 * For each node the nearest other one through which every path from `root` to it goes; -1 for the
 * root and for what it does not reach. By the simpler way of Lengauer and Tarjan ("A Fast Algorithm
 * for Finding Dominators in a Flowgraph", 1979): each node's nearest is found from the node of least
 * order from which a path round the walk's tree leads to it.
 */
export function dominators(edges: readonly (readonly number[])[], root: number): Int32Array {
  // All but `before` and what is given speaks of nodes by their order in the walk.
  const { order, above } = walk(edges, root);
  const count = order.length;
  const rank = new Int32Array(edges.length).fill(-1);
  for (let at = 0; at < count; at++) rank[order[at]] = at;
  const before = turned(edges);
  const entry = Int32Array.from({ length: count }, (_, at) => at);
  const forest = new Forest(entry);
  const nearest = new Int32Array(count);
  /** Of each node those that it is the entry of, as a chain. */
  const first = new Int32Array(count).fill(-1);
  const following = new Int32Array(count).fill(-1);
  for (let at = count - 1; at > 0; at--) {
    for (const from of before[order[at]]) {
      // What is not reached leads to nothing.
      if (rank[from] >= 0) entry[at] = Math.min(entry[at], entry[forest.best(rank[from])]);
    }
    following[at] = first[entry[at]];
    first[entry[at]] = at;
    const parent = above[at];
    forest.hang(at, parent);
    for (let one = first[parent]; one >= 0; one = following[one]) {
      const best = forest.best(one);
      nearest[one] = entry[best] < parent ? best : parent;
    }
    first[parent] = -1;
  }
  const found = new Int32Array(edges.length).fill(-1);
  for (let at = 1; at < count; at++) {
    if (nearest[at] !== entry[at]) nearest[at] = nearest[nearest[at]];
    found[order[at]] = order[nearest[at]];
  }
  return found;
}

/** The nodes that a walk reaches, depth first, in its order, and the place there of that before each. */
function walk(
  edges: readonly (readonly number[])[],
  root: number,
): { order: number[]; above: number[] } {
  const order = [root];
  const above = [-1];
  const seen = new Uint8Array(edges.length);
  /** How many edges of each node were followed. */
  const followed = new Int32Array(edges.length);
  const path = [0];
  seen[root] = 1;
  while (path.length > 0) {
    const at = path[path.length - 1];
    const node = order[at];
    if (followed[node] === edges[node].length) {
      path.pop();
      continue;
    }
    const to = edges[node][followed[node]++];
    if (seen[to] === 1) continue;
    seen[to] = 1;
    above.push(at);
    path.push(order.push(to) - 1);
  }
  return { order, above };
}

/** Trees whose ways are made shorter as they are gone. */
class Forest {
  private readonly up: Int32Array;
  private readonly least: Int32Array;

  constructor(private readonly entry: Int32Array) {
    this.up = new Int32Array(entry.length).fill(-1);
    this.least = Int32Array.from(entry);
  }

  hang(node: number, above: number): void {
    this.up[node] = above;
  }

  /** The node of least entry on the way from a node up to the root of its tree, without that root. */
  best(node: number): number {
    const { up, least, entry } = this;
    const way: number[] = [];
    for (let at = node; up[at] >= 0 && up[up[at]] >= 0; at = up[at]) way.push(at);
    for (let at = way.pop(); at !== undefined; at = way.pop()) {
      const above = up[at];
      if (entry[least[above]] < entry[least[at]]) least[at] = least[above];
      up[at] = up[above];
    }
    return least[node];
  }
}
