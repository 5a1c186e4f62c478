/** Measuring: the shortest of several runs, which a busy machine disturbs least. */
export function best(run: () => unknown, times = 9): number {
  let least = Number.POSITIVE_INFINITY;
  for (let at = 0; at < times; at++) {
    const start = process.hrtime.bigint();
    run();
    least = Math.min(least, Number(process.hrtime.bigint() - start) / 1e9);
  }
  return least;
}

/** The middle of several runs, for whole processes. */
export function middle(run: () => unknown, times = 21): number {
  const all = Array.from({ length: times }, () => best(run, 1)).sort((a, b) => a - b);
  return all[times >> 1];
}

export function row(what: string, ratio: number, goal: string, detail = ''): void {
  console.log(
    `${what.padEnd(68)} ${ratio.toFixed(2).padStart(7)}   goal ${goal.padEnd(9)} ${detail}`,
  );
}
