/** How lots go ways of their own: by a condition, a jump, the values and ends of a loop. */
import type { Expression, ForStatement, LetStatement } from '../../../../grammar/tree.js';
import { add, wholeOf } from '../../../machine/arithmetic/operations.js';
import { comparedNumbers } from '../../comparison.js';
import type { Name } from '../../names.js';
import type { Counting } from '../counting.js';
import type { Held, State } from '../state.js';
import { dependsOnLots, drawsOf, lengthOf, numberOf } from './lot-values.js';
import type { Lots, OfLot } from './lots.js';

/** Lines that one jump may lead lots to. */
const MOST_TARGETS = 64;

/** The state of the lots with which a condition holds, and of those with which it does not. */
export interface Parted {
  readonly holding?: State;
  readonly not?: State;
}

/** Is what an expression gives to be worked out lot by lot? */
const isOfLots = (node: Expression, { lots }: State): boolean =>
  lots !== undefined && dependsOnLots(node, lots);

/** What each lot gives; undefined where it is alike in all, or not known. Works RND out. */
function workedOut(node: Expression, state: State): Float64Array | undefined {
  if (!isOfLots(node, state)) return undefined;
  const of = numberOf(node, state);
  return of && state.lots!.lookAt(of, drawsOf(node));
}

/** Changes the state. */
export function parted(state: State, condition: Expression): Parted | undefined {
  const values = workedOut(condition, state);
  if (values === undefined) return undefined;
  const [holding, not] = split(state.lots!, (lot) => values[lot] !== 0);
  return { holding: state.only(holding), not: state.only(not) };
}

/** The lots of which something holds, and the others. */
function split(
  { alive, effort }: Lots,
  holds: (lot: number) => boolean,
): [Uint16Array, Uint16Array] {
  const holding = new Uint16Array(alive.length);
  const not = new Uint16Array(alive.length);
  let [first, second] = [0, 0];
  const { length } = alive;
  for (let at = 0; at < length; at++) {
    const lot = alive[at];
    if (holds(lot)) holding[first++] = lot;
    else not[second++] = lot;
  }
  effort.spend(alive.length);
  return [holding.subarray(0, first), not.subarray(0, second)];
}

/** The states of the lots that a jump leads to each number. Changes the state. */
export function partedByTarget(
  state: State,
  node: Expression,
): readonly { readonly state: State; readonly number: number }[] | undefined {
  const values = workedOut(node, state);
  if (values === undefined) return undefined;
  const numbers = new Set<number>();
  for (const lot of state.lots!.alive) numbers.add(wholeOf(values[lot]));
  if (numbers.size > MOST_TARGETS) return undefined;
  return [...numbers].flatMap((number) => {
    const [there] = split(state.lots!, (lot) => wholeOf(values[lot]) === number);
    const some = state.only(there);
    return some === undefined ? [] : [{ state: some, number }];
  });
}

/**
 * What LET gives a plain variable lot by lot: to be asked for before it is set, and done behind that, when
 * the state holds what is known of all lots together. Undefined where it is not known so: then RND is
 * still to be worked out.
 */
export function settingByLots(
  { target, value }: LetStatement,
  state: State,
): ((state: State) => void) | undefined {
  if (target.kind !== 'variable' || !isOfLots(value, state)) return undefined;
  if (state.elementLength(target.name) !== undefined) return undefined;
  const of = value.type === 'number' ? numberOf(value, state) : lengthOf(value, state);
  return of && ((after) => set(target.name, of, drawsOf(value), after));
}

function set(name: Name, of: OfLot, draws: number, state: State): void {
  const held = state.variables.get(name);
  const lots = state.lots!;
  const values = lots.workOut(of, draws);
  const { low, high, whole } = lots.rangeOf(values);
  // Where all lots stop here, nothing is known of them.
  if (held === undefined || !Number.isFinite(low) || !Number.isFinite(high)) return;
  if (held.number === undefined) state.keep(name, { ...held, length: { low, high } });
  else state.keep(name, { ...held, number: { ...held.number, low, high, whole } });
  lots.set(name, values);
}

/** The lots with which a loop goes on, and those with which it has come to its end. */
export interface Turned {
  readonly within?: State;
  readonly past?: State;
}

/**
 * A loop begins: `held` is what is known of its variable in all lots together. Undefined where first
 * value and limit are alike in all lots, or not known. Changes the state.
 */
export function beginLots(
  { variable: { name }, from, to, step }: ForStatement,
  state: State,
  held: Held & { readonly counting: Counting },
): Turned | undefined {
  if (state.lots === undefined || (step && isOfLots(step, state))) return undefined;
  if (!isOfLots(from, state) && !isOfLots(to, state)) return undefined;
  const first = numberOf(from, state);
  const last = numberOf(to, state);
  if (first === undefined || last === undefined || !isOneWay(held.counting)) return undefined;
  const { lots } = state;
  const values = lots.workOut(first, drawsOf(from));
  const limits = lots.workOut(last, drawsOf(to));
  state.draw(step === undefined ? 0 : drawsOf(step));
  return turned(state, name, held, values, limits);
}

/** The same at NEXT. */
export function turnLots(name: Name, state: State): Turned | undefined {
  const { lots } = state;
  const held = state.variables.get(name);
  if (lots === undefined || held?.number === undefined || held.counting === undefined) {
    return undefined;
  }
  const before = lots.values.get(name);
  const limits = lots.limits.get(name);
  const { counting, number } = held;
  if ((before === undefined && limits === undefined) || !isOneWay(counting)) return undefined;
  const step = counting.step.low;
  if (before === undefined && number.low !== number.high) return undefined;
  if (limits === undefined && counting.limit.low !== counting.limit.high) return undefined;
  const next =
    before === undefined
      ? new Float64Array(lots.size).fill(add(number.low, step))
      : before.map((value) => add(value, step));
  return turned(
    state,
    name,
    { ...held, counting },
    next,
    limits ?? new Float64Array(lots.size).fill(counting.limit.low),
  );
}

/** Is the step known, so that a pass of each lot leads to one value? */
const isOneWay = ({ step }: Counting): boolean =>
  step.low === step.high && Number.isFinite(step.low);

function turned(
  state: State,
  name: Name,
  held: Held & { readonly counting: Counting },
  values: Float64Array,
  limits: Float64Array,
): Turned {
  const lots = state.lots!;
  const { counting } = held;
  const up = counting.step.low >= 0;
  const number = { ...(held.number ?? counting.limit), ...lots.rangeOf(values) };
  const limit = { ...counting.limit, ...lots.rangeOf(limits) };
  state.keep(name, { ...held, number, counting: { ...counting, limit } });
  lots.set(name, values);
  lots.limit(name, limits);
  const [past, within] = split(lots, (lot) =>
    up
      ? comparedNumbers('>', values[lot], limits[lot]) === 1
      : comparedNumbers('<', values[lot], limits[lot]) === 1,
  );
  return { within: state.only(within), past: state.only(past) };
}
