/**
 * What keeps ways apart that meet at the same point: where printing goes on, and the numbers that
 * decide what is still to come, as far as they are known. Two ways that agree in these differ in
 * nothing that matters much, and are joined.
 */
import type { Expression, PrintItem } from '../../../grammar/tree.js';
import type { Flow } from '../flow.js';
import type { Name, Names } from '../names.js';
import { expressionsOfItem, type Step } from '../steps.js';
import { Alive, MOST_ALIVE } from './alive.js';
import { numbersOf } from './conditions.js';
import type { State } from './state.js';

export class Apart {
  private readonly deciding: readonly Name[];
  private readonly alive: Alive;

  constructor(flow: Flow, names: Names) {
    this.deciding = decidingVariables(flow.steps).slice(0, MOST_ALIVE);
    this.alive = new Alive(flow, names, this.deciding);
  }

  /** What tells a way apart that comes to a line. */
  kind(index: number, { cursor, variables }: State): string {
    const { rowLow, rowHigh, columnLow, columnHigh } = cursor;
    let kind = ` ${rowLow} ${rowHigh} ${columnLow} ${columnHigh}`;
    this.deciding.forEach((name, at) => {
      if (!this.alive.isAlive(index, name)) return;
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
