/**
 * The work that waits in a fixpoint: each item once, in an order. It is a heap.
 *
 * Without rounds the first in the order comes next, however late it was put: what is settled first is
 * settled before anything builds on it. In rounds the order is gone through from its beginning to its
 * end again and again; what is put behind the place where that stands waits for the next round, as if
 * each round went through everything that there is.
 */
export class Worklist<T> {
  private readonly heap: T[] = [];
  private readonly waiting = new Set<T>();
  private nextRound: T[] = [];
  private current: T | undefined;
  /** Rounds that have gone by. */
  round = 0;

  /** `order`: below 0 where the first comes before the second. */
  constructor(
    private readonly order: (a: T, b: T) => number,
    private readonly inRounds = false,
  ) {}

  /** Lets an item wait, unless it does. */
  put(item: T): void {
    if (this.waiting.has(item)) return;
    this.waiting.add(item);
    const { current } = this;
    if (this.inRounds && current !== undefined && this.order(item, current) <= 0) {
      this.nextRound.push(item);
    } else this.push(item);
  }

  /** The items as they come to their turn, those that are put meanwhile too. */
  *[Symbol.iterator](): Generator<T, void> {
    for (;;) {
      if (this.heap.length === 0) {
        if (this.nextRound.length === 0) return;
        for (const item of this.nextRound) this.push(item);
        this.nextRound = [];
        this.round++;
      }
      const item = this.pop();
      this.waiting.delete(item);
      this.current = item;
      yield item;
    }
  }

  private push(item: T): void {
    const { heap, order } = this;
    let at = heap.push(item) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (order(heap[above], item) <= 0) break;
      heap[at] = heap[above];
      at = above;
    }
    heap[at] = item;
  }

  private pop(): T {
    const { heap, order } = this;
    const [first] = heap;
    const last = heap.pop()!;
    if (heap.length === 0) return first;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= heap.length) break;
      if (below + 1 < heap.length && order(heap[below + 1], heap[below]) < 0) below++;
      if (order(last, heap[below]) <= 0) break;
      heap[at] = heap[below];
      at = below;
    }
    heap[at] = last;
    return first;
  }
}

/** The order of numbers: of the lines by their positions. */
export const upward = (a: number, b: number): number => a - b;
