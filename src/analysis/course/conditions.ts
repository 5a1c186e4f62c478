/** What a condition tells of variables once it is known to hold, or not to. */
import type { Expression, PrintItem } from '../../../grammar/tree.js';
import { partsOf, withoutBrackets } from '../../../grammar/visit.js';
import { stringVariableSize } from '../../machine/variables.js';
import { blurred } from '../comparison.js';
import type { NumberRange } from '../expression-ranges.js';
import type { Name } from '../names.js';
import { expressionsOfItem } from '../steps.js';
import { drawsOf } from './lots/lot-values.js';
import { type Parted, parted } from './lots/parting.js';
import type { State } from './state.js';

const OPPOSITE: Readonly<Record<string, string>> = {
  '=': '<>',
  '<>': '=',
  '<': '>=',
  '>=': '<',
  '>': '<=',
  '<=': '>',
};
const TURNED: Readonly<Record<string, string>> = { '<': '>', '>': '<', '<=': '>=', '>=': '<=' };

/** What there is where a condition holds, and where it does not. Changes the state. */
export function decided(state: State, condition: Expression): Parted {
  const byLots = parted(state, condition);
  if (byLots !== undefined) return byLots;
  const { low, high } = state.number(condition);
  state.draw(drawsOf(condition));
  const surely = low > 0 || high < 0;
  const never = low === 0 && high === 0;
  return {
    not: surely ? undefined : refined(state.copy(), condition, false),
    holding: never ? undefined : refined(state, condition, true),
  };
}

/** The state in which the condition holds (or not); undefined where it cannot. Changes the state. */
export function refined(state: State, condition: Expression, holds: boolean): State | undefined {
  const node = withoutBrackets(condition);
  if (node.kind === 'unary' && node.operator === 'NOT') return refined(state, node.operand, !holds);
  if (node.kind !== 'binary') return state;
  const both = holds ? 'AND' : 'OR';
  if (node.operator === both && node.left.type === 'number') {
    const left = refined(state, node.left, holds);
    return left && refined(left, node.right, holds);
  }
  if (OPPOSITE[node.operator] === undefined || node.left.type !== 'number') return state;
  const operator = holds ? node.operator : OPPOSITE[node.operator];
  const first = narrow(state, node.left, operator, node.right);
  return first && narrow(first, node.right, TURNED[operator] ?? operator, node.left);
}

/** Narrows what stands on the left, where it is a variable or the length of one. */
function narrow(
  state: State,
  subject: Expression,
  operator: string,
  other: Expression,
): State | undefined {
  const node = withoutBrackets(subject);
  const bound = state.number(other);
  if (node.kind === 'variable') {
    const held = state.variables.get(node.name);
    if (held?.number === undefined) return state;
    const number = narrowed(held.number, operator, bound);
    if (number === undefined) return undefined;
    if (number !== held.number) state.hold(node.name, { ...held, number });
    return state;
  }
  if (node.kind !== 'call' || node.function !== 'LEN') return state;
  const { argument } = node;
  if (argument.kind !== 'variable') return state;
  const held = state.variables.get(argument.name);
  if (held?.length === undefined || held.element !== undefined) return state;
  const { low, high } = held.length;
  const found = narrowed({ low, high, whole: true, moves: false }, operator, bound);
  if (found === undefined) return undefined;
  const length = { low: found.low, high: found.high };
  const size = held.size - (high - length.high);
  if (Number.isFinite(high)) state.hold(argument.name, { ...held, length, size });
  else if (Number.isFinite(length.high)) {
    state.hold(argument.name, { ...held, length, size: stringVariableSize(length.high) });
  }
  return state;
}

function narrowed(
  found: NumberRange,
  operator: string,
  bound: NumberRange,
): NumberRange | undefined {
  const whole = found.whole && bound.whole;
  const gap = whole ? 1 : 0;
  const most = blurred(bound.high, whole, 1);
  const least = blurred(bound.low, whole, -1);
  let { low, high } = found;
  switch (operator) {
    case '=':
      low = Math.max(low, least);
      high = Math.min(high, most);
      break;
    case '<>':
      if (gap === 1 && bound.low === bound.high) {
        if (low === bound.low) low++;
        if (high === bound.low) high--;
      }
      break;
    case '<':
      high = Math.min(high, bound.high - gap);
      break;
    case '<=':
      high = Math.min(high, most);
      break;
    case '>':
      low = Math.max(low, bound.low + gap);
      break;
    case '>=':
      low = Math.max(low, least);
      break;
  }
  if (low > high) return undefined;
  return low === found.low && high === found.high ? found : { ...found, low, high };
}

/** Names of the number variables in what PRINT is given, each once. */
export function numbersIn(items: readonly PrintItem[]): Name[] {
  return numbersOf(items.flatMap(expressionsOfItem));
}

/** Names of the number variables in some expressions, each once. */
export function numbersOf(expressions: readonly Expression[]): Name[] {
  const names = new Set<Name>();
  const visit = (node: Expression): void => {
    if (node.kind === 'variable' && node.type === 'number') names.add(node.name);
    for (const part of partsOf(node)) visit(part);
  };
  expressions.forEach(visit);
  return [...names];
}
