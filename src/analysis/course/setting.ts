/** What a variable is once LET, INPUT or DIM has set it. */
import type { DimStatement, InputStatement, LetStatement } from '../../../grammar/tree.js';
import { baseVariable } from '../../../grammar/visit.js';
import { NUMBER_SIZE } from '../../machine/numbers.js';
import { arraySize, numberVariableSize, stringVariableSize } from '../../machine/variables.js';
import { ANY_NUMBER, joined, range, single, TYPED } from '../expression-ranges.js';
import { type Name, nameOfVariable } from '../names.js';
import { type Held, type State, Unfollowed } from './state.js';

/** The variable and what is known of it then; undefined where it stays as it is. */
export function settingOf(
  statement: LetStatement | InputStatement | DimStatement,
  state: State,
): readonly [Name, Held] | undefined {
  const { target } = statement;
  const base = baseVariable(target);
  if (base === undefined) return undefined;
  const inside = target.kind === 'subscripted';
  const name = nameOfVariable(base, inside || statement.kind === 'DIM');
  if (statement.kind === 'DIM') return [name, arrayOf(statement, base.type, state)];
  if (base.type === 'string') {
    if (inside || state.elementLength(name) !== undefined) return undefined;
    const length = statement.kind === 'LET' ? state.length(statement.value) : TYPED;
    return [name, { size: stringVariableSize(length.high), length }];
  }
  const number = statement.kind === 'LET' ? state.number(statement.value) : ANY_NUMBER;
  const known = state.variables.get(name);
  if (inside) {
    if (known === undefined) return undefined;
    return [name, { ...known, number: known.number ? joined(known.number, number) : number }];
  }
  const size = Math.max(known?.size ?? 0, numberVariableSize(name));
  return [name, { ...known, size, number }];
}

function arrayOf({ sizes }: DimStatement, type: 'number' | 'string', state: State): Held {
  const found = sizes.map((size) => state.number(size));
  const most = found.map(({ high }) => Math.max(1, Math.floor(high + 0.5)));
  const size = arraySize(most, type === 'number' ? NUMBER_SIZE : 1);
  if (type === 'number') return { size, number: range(0) };
  const element = single(found[found.length - 1]);
  if (element === undefined)
    throw new Unfollowed('only the run tells how long the strings of an array are');
  const length = Math.max(1, Math.round(element));
  return { size, length: { low: length, high: length }, element: length };
}
