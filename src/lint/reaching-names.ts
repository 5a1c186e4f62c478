/** Which variables can have been set when the machine comes to a line. */
import type { Name } from '../analysis/names.js';
import type { Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';

/**
 * Gives a function that says whether a variable can be set before a step; undefined for a step that
 * is not reached, or where nothing can be told.
 */
export function reachingNames(program: Program): (step: Step, name: Name) => boolean | undefined {
  const { flow, names } = program;
  const bit = new Map([...names.all.keys()].map((name, index) => [name, index]));
  const words = Math.ceil(bit.size / 32);
  if (flow.open || flow.length === 0) return () => undefined;
  const sets = settingBits(program, bit, words);
  const before = spread(program, sets, savedBits(program, bit, words), words);
  return (step, name) => {
    if (!flow.reachable[step.index]) return undefined;
    const index = bit.get(name)!;
    return (before[step.index * words + (index >> 5)] & (1 << (index & 31))) !== 0;
  };
}

function settingBits({ flow, names }: Program, bit: Map<Name, number>, words: number): Int32Array {
  const sets = new Int32Array(flow.length * words);
  for (const { name, settings } of names.all.values()) {
    const index = bit.get(name)!;
    for (const { kind, step, target } of settings) {
      if (kind === 'NEXT' || target.kind === 'subscripted') continue;
      sets[step.index * words + (index >> 5)] |= 1 << (index & 31);
    }
  }
  return sets;
}

function savedBits({ saved }: Program, bit: Map<Name, number>, words: number): Int32Array {
  const bits = new Int32Array(words);
  for (const { kind, name } of saved) {
    const index = bit.get(kind === 'numbers' ? `${name}()` : name);
    if (index !== undefined) bits[index >> 5] |= 1 << (index & 31);
  }
  return bits;
}

/** Follows every way, through GOSUB to RETURN and back behind any GOSUB, until nothing is added. */
function spread(
  { flow }: Program,
  sets: Int32Array,
  atStart: Int32Array,
  words: number,
): Int32Array {
  const before = new Int32Array(flow.length * words);
  const seen = flow.steps.map(() => false);
  const afterReturn = new Int32Array(words);
  const behindCalls = new Set<number>();
  const waiting: number[] = [];
  const arrive = (to: number, bits: (word: number) => number): void => {
    if (to >= flow.length) return;
    let changed = !seen[to];
    seen[to] = true;
    for (let word = 0; word < words; word++) {
      const at = to * words + word;
      const next = before[at] | bits(word);
      if (next === before[at]) continue;
      before[at] = next;
      changed = true;
    }
    if (changed) waiting.push(to);
  };
  arrive(flow.entry, (word) => atStart[word]);
  while (waiting.length > 0) {
    const index = waiting.pop()!;
    const out = (word: number): number => before[index * words + word] | sets[index * words + word];
    for (const to of flow.next[index]) {
      const isCall = flow.calls[index].length > 0 && to === index + 1;
      if (!isCall || flow.steps[index].conditions.length > 0) arrive(to, out);
    }
    if (flow.calls[index].length > 0) {
      for (const to of flow.calls[index]) arrive(to, out);
      behindCalls.add(index + 1);
      // Behind the call stands what was set before it, and what subroutines set.
      arrive(index + 1, (word) => out(word) | afterReturn[word]);
    }
    if (flow.steps[index].statement?.kind === 'RETURN') {
      let changed = false;
      for (let word = 0; word < words; word++) {
        const next = afterReturn[word] | out(word);
        changed ||= next !== afterReturn[word];
        afterReturn[word] = next;
      }
      if (changed) for (const to of behindCalls) arrive(to, (word) => afterReturn[word]);
    }
  }
  return before;
}
