/** What PRINT and PLOT do to a state; false where that leaves the display at the bottom, which ends the run. */
import type { Expression, PrintItem } from '../../../grammar/tree.js';
import { itemCost, type StepCost } from '../expression-cost.js';
import { range } from '../expression-ranges.js';
import type { Name } from '../names.js';
import { type Cursor, Printing, type RowGrowth } from '../printing.js';
import { numbersIn } from './conditions.js';
import type { State } from './state.js';

/** Values of one variable for which a PRINT is followed one by one. */
const MOST_VALUES = 32;

/** Told of the moments within a PRINT. */
export interface Watch {
  /** An item is about to be worked out, which has this cost, with the strings of those before it. */
  working(state: State, cost: StepCost): void;
  /** All is printed, or what fitted onto the display. */
  printed(state: State, strings: number): void;
}

/**
 * Prints; where a variable has few values it is followed for each, as AT and TAB hang together.
 * `longest`: characters that one character of a string is shown as at most.
 */
export function print(
  items: readonly PrintItem[],
  state: State,
  longest: number,
  watch: Watch,
): boolean {
  const name = severalPlaces(items, state);
  if (name === undefined) return printAll(items, state, longest, watch);
  const held = state.variables.get(name)!;
  const { low, high } = held.number!;
  let all: State | undefined;
  for (let value = low; value <= high; value++) {
    const one = state.copy();
    one.hold(name, { ...held, number: range(value) });
    if (!printAll(items, one, longest, watch)) continue;
    if (all === undefined) all = one;
    else all.join(one, false);
  }
  if (all === undefined) return false;
  state.takeDisplay(all);
  return true;
}

/** PLOT and UNPLOT. */
export function plot(args: readonly Expression[], state: State, longest: number): boolean {
  return printed(state, longest, (printing) => printing.plot(args));
}

function printAll(
  items: readonly PrintItem[],
  state: State,
  longest: number,
  watch: Watch,
): boolean {
  let strings = 0;
  const working = (item: PrintItem): void => {
    const cost = itemCost(item, state);
    strings += cost.strings;
    watch.working(state, { ...cost, strings });
  };
  const stays = printed(state, longest, (printing) => printing.print(items, state.cursor), working);
  watch.printed(state, strings);
  return stays;
}

function severalPlaces(items: readonly PrintItem[], state: State): Name | undefined {
  if (!items.some(({ kind }) => kind === 'AT' || kind === 'TAB')) return undefined;
  return numbersIn(items).find((name) => {
    const { low, high, whole } = state.named(name);
    return whole && high > low && high - low < MOST_VALUES;
  });
}

function printed(
  state: State,
  longest: number,
  act: (printing: Printing) => Cursor,
  working?: (item: PrintItem) => void,
): boolean {
  let left = false;
  const grow = (growth: RowGrowth): void => state.grow(growth);
  const overrun = (): void => {
    left = true;
  };
  state.cursor = act(new Printing(state, longest, grow, overrun, working));
  return !left;
}
