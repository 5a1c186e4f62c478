/** Which variables are still read, before anything sets them anew. */
import type { Flow } from '../flow.js';
import type { Name, Names } from '../names.js';
import { upward, Worklist } from '../worklist.js';

/** Variables that are looked at: as many as a number has bits for. */
export const MOST_ALIVE = 30;

export class Alive {
  private readonly places: ReadonlyMap<Name, number>;
  /** For each line those of the watched variables, as bits, that are alive. */
  private readonly before: Int32Array;

  /** `watched`: at most MOST_ALIVE; all others are taken to be alive everywhere. */
  constructor(flow: Flow, names: Names, watched: readonly Name[]) {
    this.places = new Map(watched.map((name, at) => [name, at]));
    this.before = aliveBefore(flow, names, watched);
  }

  /** May what a variable holds before a line be read there or behind it? */
  isAlive(index: number, name: Name): boolean {
    const place = this.places.get(name);
    return place === undefined || (this.before[index] & (1 << place)) !== 0;
  }
}

function aliveBefore(flow: Flow, names: Names, watched: readonly Name[]): Int32Array {
  const read = new Int32Array(flow.length);
  const set = new Int32Array(flow.length);
  watched.forEach((name, at) => {
    const variable = names.all.get(name);
    for (const { step } of variable?.readings ?? []) read[step.index] |= 1 << at;
    for (const { kind, step } of variable?.settings ?? []) {
      if (kind === 'NEXT') read[step.index] |= 1 << at;
      else if (step.conditions.length === 0) set[step.index] |= 1 << at;
    }
  });
  const before = linesBefore(flow);
  const alive = new Int32Array(flow.length);
  const after = new Int32Array(flow.length);
  const waiting = new Worklist<number>((a, b) => upward(b, a));
  for (const { index } of flow.steps) waiting.put(index);
  for (const index of waiting) {
    const next = read[index] | (after[index] & ~set[index]);
    if (next === alive[index]) continue;
    alive[index] = next;
    for (const from of before[index]) {
      after[from] |= next;
      waiting.put(from);
    }
  }
  return alive;
}

/** For each line those from which the machine comes to it. */
export function linesBefore(flow: Flow): readonly (readonly number[])[] {
  const before: number[][] = flow.steps.map(() => []);
  const lead = (from: number, targets: readonly number[]): void => {
    for (const to of targets) before[to]?.push(from);
  };
  const behindCalls: number[] = [];
  flow.steps.forEach(({ index }) => {
    lead(index, flow.next[index]);
    lead(index, flow.calls[index]);
    if (flow.calls[index].length > 0) behindCalls.push(index + 1);
  });
  for (const { index, statement } of flow.steps) {
    if (statement?.kind === 'RETURN') lead(index, behindCalls);
  }
  return before;
}
