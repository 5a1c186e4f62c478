/** Which variables can have been set when the machine comes to a line. */
import type { Name } from '../analysis/names.js';
import type { Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';
import { firstIndex } from '../listing/search.js';

/**
 * Gives a function that says whether a variable can be set before a step; undefined for a step that
 * is not reached, or where nothing can be told.
 */
export function reachingNames(program: Program): (step: Step, name: Name) => boolean | undefined {
  const { flow, names, saved } = program;
  if (flow.open || flow.length === 0) return () => undefined;
  const kept = new Set(saved.map(({ kind, name }) => (kind === 'numbers' ? `${name}()` : name)));
  const settings = [...names.all.keys()].map((name) => settingSteps(program, name));
  const place = new Map([...names.all.keys()].map((name, index) => [name, index]));
  const begins = rowBegins(program);
  const spreads: Int32Array[] = [];
  return (step, name) => {
    if (!flow.reachable[step.index]) return undefined;
    if (kept.has(name)) return true;
    const index = place.get(name)!;
    // Most are set above where they are used, in the same row of lines.
    const steps = settings[index];
    const before = steps[firstIndex(steps.length, (at) => steps[at] >= step.index) - 1];
    if (before !== undefined && before >= begins[step.index]) return true;
    const first = index & ~31;
    spreads[first >> 5] ??= spread(program, settings.slice(first, first + 32));
    return (spreads[first >> 5][step.index] & (1 << (index - first))) !== 0;
  };
}

/** The steps that set a variable, where a run comes to them, in order. */
function settingSteps({ flow, names }: Program, name: Name): number[] {
  const found: number[] = [];
  for (const { kind, step, target } of names.all.get(name)!.settings) {
    if (kind === 'NEXT' || target.kind === 'subscripted' || !flow.reachable[step.index]) continue;
    found.push(step.index);
  }
  return found.sort((a, b) => a - b);
}

/** For each step the first of those from which a run can go on line by line until it comes to it. */
function rowBegins({ flow }: Program): Int32Array {
  const begins = new Int32Array(flow.length);
  for (let at = 1; at < flow.length; at++) {
    const goesOn = flow.next[at - 1].includes(at) || flow.calls[at - 1].length > 0;
    begins[at] = goesOn && flow.reachable[at - 1] ? begins[at - 1] : at;
  }
  return begins;
}

/**
 * Follows every way, through GOSUB to RETURN and back behind any GOSUB, until nothing is added. Gives
 * for each step which variables can be set before it: a bit for each, 32 at most.
 */
function spread({ flow }: Program, settings: readonly (readonly number[])[]): Int32Array {
  const sets = new Int32Array(flow.length);
  settings.forEach((steps, index) => {
    for (const step of steps) sets[step] |= 1 << index;
  });
  const before = new Int32Array(flow.length);
  const seen = new Uint8Array(flow.length);
  let afterReturn = 0;
  const behindCalls = new Set<number>();
  const waiting: number[] = [];
  const arrive = (to: number, bits: number): void => {
    if (to >= flow.length || (seen[to] === 1 && (bits & ~before[to]) === 0)) return;
    seen[to] = 1;
    before[to] |= bits;
    waiting.push(to);
  };
  arrive(flow.entry, 0);
  while (waiting.length > 0) {
    const index = waiting.pop()!;
    const out = before[index] | sets[index];
    for (const to of flow.next[index]) {
      const isCall = flow.calls[index].length > 0 && to === index + 1;
      if (!isCall || flow.steps[index].conditions.length > 0) arrive(to, out);
    }
    if (flow.calls[index].length > 0) {
      for (const to of flow.calls[index]) arrive(to, out);
      behindCalls.add(index + 1);
      // Behind the call stands what was set before it, and what subroutines set.
      arrive(index + 1, out | afterReturn);
    }
    if (flow.steps[index].statement?.kind === 'RETURN' && (out & ~afterReturn) !== 0) {
      afterReturn |= out;
      for (const to of behindCalls) arrive(to, afterReturn);
    }
  }
  return before;
}
