/** Strongly connected parts and dominators, for graphs of lines. All take time linear in the edges, or nearly. */

/** The part of each node: parts are numbered so that every edge leads to an equal or lower number. */
export function connectedParts(edges: readonly (readonly number[])[]): Int32Array {
  const count = edges.length;
  const part = new Int32Array(count).fill(-1);
  const order = new Int32Array(count).fill(-1);
  const lowest = new Int32Array(count);
  const open: number[] = [];
  let visited = 0;
  let parts = 0;
  for (let root = 0; root < count; root++) {
    if (order[root] >= 0) continue;
    const path: { node: number; edge: number }[] = [{ node: root, edge: 0 }];
    order[root] = lowest[root] = visited++;
    open.push(root);
    while (path.length > 0) {
      const top = path[path.length - 1];
      const { node } = top;
      if (top.edge < edges[node].length) {
        const to = edges[node][top.edge++];
        if (order[to] < 0) {
          order[to] = lowest[to] = visited++;
          open.push(to);
          path.push({ node: to, edge: 0 });
        } else if (part[to] < 0) lowest[node] = Math.min(lowest[node], order[to]);
        continue;
      }
      path.pop();
      if (path.length > 0) {
        const above = path[path.length - 1].node;
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
  const path: { node: number; edge: number }[] = [{ node: root, edge: 0 }];
  seen[root] = 1;
  while (path.length > 0) {
    const top = path[path.length - 1];
    if (top.edge < edges[top.node].length) {
      const to = edges[top.node][top.edge++];
      if (seen[to] === 1) continue;
      seen[to] = 1;
      path.push({ node: to, edge: 0 });
    } else {
      order.push(top.node);
      path.pop();
    }
  }
  return order;
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
  const before: number[][] = edges.map(() => []);
  for (const node of order) for (const to of edges[node]) before[to].push(node);
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
  for (let changed = true; changed; ) {
    changed = false;
    for (let at = order.length - 2; at >= 0; at--) {
      const node = order[at];
      let nearest = -1;
      for (const from of before[node]) {
        if (found[from] >= 0) nearest = nearest < 0 ? from : meet(from, nearest);
      }
      if (nearest === found[node]) continue;
      found[node] = nearest;
      changed = true;
    }
  }
  found[root] = -1;
  return found;
}
