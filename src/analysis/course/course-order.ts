/** What waits to be followed, in the order of the course: a heap. */

/** Outer loops stand before inner ones: for each its head and the pass, and the line last. */
export type Path = readonly number[];

export class CourseOrder<T extends { readonly path: Path }> {
  private readonly queue: T[] = [];

  put(one: T): void {
    const { queue } = this;
    let at = queue.push(one) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (compare(queue[above].path, one.path) <= 0) break;
      queue[at] = queue[above];
      at = above;
    }
    queue[at] = one;
  }

  /** The first of all, which waits no longer. */
  take(): T | undefined {
    const { queue } = this;
    const first = queue[0];
    const last = queue.pop();
    if (last === undefined || queue.length === 0) return first;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= queue.length) break;
      if (below + 1 < queue.length && compare(queue[below + 1].path, queue[below].path) < 0)
        below++;
      if (compare(last.path, queue[below].path) <= 0) break;
      queue[at] = queue[below];
      at = below;
    }
    queue[at] = last;
    return first;
  }
}

/** Places in the order of the course: outer loops pass by pass, within a pass line by line. */
function compare(a: Path, b: Path): number {
  const shared = Math.min(a.length, b.length);
  for (let at = 0; at < shared; at++) if (a[at] !== b[at]) return a[at] - b[at];
  return a.length - b.length;
}
