/** Strongly connected parts and dominators, for graphs of lines. All take time linear in the edges, or nearly. */
import { Worklist } from './worklist.js';

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

/** Nodes that a walk from `root` reaches, each after all that it leads to but for the way back. */
function postorder(edges: readonly (readonly number[])[], root: number): number[] {
  const order: number[] = [];
  const seen = new Uint8Array(edges.length);
  /** How many edges of each node were followed. */
  const followed = new Int32Array(edges.length);
  const path = [root];
  seen[root] = 1;
  while (path.length > 0) {
    const node = path[path.length - 1];
    if (followed[node] < edges[node].length) {
      const to = edges[node][followed[node]++];
      if (seen[to] === 1) continue;
      seen[to] = 1;
      path.push(to);
    } else {
      order.push(node);
      path.pop();
    }
  }
  return order;
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
 * root and for what it does not reach. By the iteration of Cooper, Harvey and Kennedy ("A Simple,
 * Fast Dominance Algorithm", 2001).
 */
export function dominators(edges: readonly (readonly number[])[], root: number): Int32Array {
  const order = postorder(edges, root);
  const rank = new Int32Array(edges.length).fill(-1);
  order.forEach((node, index) => {
    rank[node] = index;
  });
  const before = turned(edges);
  const found = new Int32Array(edges.length).fill(-1);
  found[root] = root;
  const meet = (a: number, b: number): number => {
    let [left, right] = [a, b];
    while (left !== right) {
      while (rank[left] < rank[right]) left = found[left];
      while (rank[right] < rank[left]) right = found[right];
    }
    return left;
  };
  const waiting = new Worklist<number>((a, b) => rank[b] - rank[a], true);
  for (let at = order.length - 2; at >= 0; at--) waiting.put(order[at]);
  for (const node of waiting) {
    let nearest = -1;
    for (const from of before[node]) {
      if (found[from] >= 0) nearest = nearest < 0 ? from : meet(from, nearest);
    }
    if (nearest === found[node]) continue;
    found[node] = nearest;
    for (const to of edges[node]) if (to !== root) waiting.put(to);
  }
  found[root] = -1;
  return found;
}
