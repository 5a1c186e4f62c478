/**
 * What keeps ways apart that meet at the same point: where printing goes on, and the numbers that
 * decide what is still to come, as far as they are known. Two ways that agree in these differ in
 * nothing that matters much, and are joined.
 */
import type { Expression, PrintItem } from '../../../grammar/tree.js';
import type { Flow } from '../flow.js';
import type { Name, Names } from '../names.js';
import { expressionsOfItem, type Step } from '../steps.js';
import { upward, Worklist } from '../worklist.js';
import { numbersOf } from './conditions.js';
import type { State } from './state.js';

/** Variables that are looked at: as many as a number has bits for. */
const MOST_DECIDING = 30;

export class Apart {
  private readonly deciding: readonly Name[];
  /** For each line the deciding variables, as bits, that are read before they are set anew. */
  private readonly alive: Int32Array;

  constructor(flow: Flow, names: Names) {
    this.deciding = decidingVariables(flow.steps).slice(0, MOST_DECIDING);
    this.alive = aliveBefore(flow, names, this.deciding);
  }

  /** What tells a way apart that comes to a line. */
  kind(index: number, { cursor, variables }: State): string {
    const { rowLow, rowHigh, columnLow, columnHigh } = cursor;
    let kind = ` ${rowLow} ${rowHigh} ${columnLow} ${columnHigh}`;
    const alive = this.alive[index];
    this.deciding.forEach((name, at) => {
      if ((alive & (1 << at)) === 0) return;
      const number = variables.get(name)?.number;
      if (number !== undefined && number.low === number.high) kind += ` ${at}=${number.low}`;
    });
    return kind;
  }
}

/** Number variables that decide where the machine goes or prints, by themselves or through others. */
function decidingVariables(steps: readonly Step[]): Name[] {
  const found = new Set<Name>(steps.flatMap((step) => numbersOf(decidingExpressions(step))));
  const sources = new Map<Name, Name[]>();
  for (const { statement } of steps) {
    if (statement?.kind !== 'LET' || statement.target.kind !== 'variable') continue;
    const { target, value } = statement;
    const known = sources.get(target.name) ?? [];
    known.push(...numbersOf([value]));
    sources.set(target.name, known);
  }
  // What is added while the set is gone through is come to as well.
  for (const name of found) for (const source of sources.get(name) ?? []) found.add(source);
  return [...found];
}

function decidingExpressions({ conditions, statement }: Step): readonly Expression[] {
  switch (statement?.kind) {
    case 'FOR': {
      const { from, to, step } = statement;
      return [...conditions, from, to, ...(step === undefined ? [] : [step])];
    }
    case 'GOTO':
    case 'GOSUB':
      return [...conditions, ...statement.args];
    case 'PRINT':
      return [...conditions, ...statement.items.filter(isPlace).flatMap(expressionsOfItem)];
    default:
      return conditions;
  }
}

const isPlace = ({ kind }: PrintItem): boolean => kind === 'AT' || kind === 'TAB';

function aliveBefore(flow: Flow, names: Names, deciding: readonly Name[]): Int32Array {
  const read = new Int32Array(flow.length);
  const set = new Int32Array(flow.length);
  deciding.forEach((name, at) => {
    const variable = names.all.get(name);
    for (const { step } of variable?.readings ?? []) read[step.index] |= 1 << at;
    for (const { kind, step } of variable?.settings ?? []) {
      if (kind === 'NEXT') read[step.index] |= 1 << at;
      else if (step.conditions.length === 0) set[step.index] |= 1 << at;
    }
  });
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
