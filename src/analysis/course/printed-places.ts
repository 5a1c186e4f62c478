/** What PRINT and PLOT do to a state; false where that leaves the display at the bottom, which ends the run. */
import type { Expression, PrintItem } from '../../../grammar/tree.js';
import { itemCost, type StepCost } from '../expression-cost.js';
import { range } from '../expression-ranges.js';
import type { Name } from '../names.js';
import { type Cursor, Printing, type RowGrowth } from '../printing.js';
import { expressionsOfItem } from '../steps.js';
import { numbersIn } from './conditions.js';
import { plotLots, printLots, printsByLots } from './lots/lot-printing.js';
import { drawsOfAll } from './lots/lot-values.js';
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

/** A PRINT; `longest`: characters that one character of a string is shown as at most. */
interface Print {
  readonly items: readonly PrintItem[];
  readonly longest: number;
  readonly watch: Watch;
}

/** Prints; where a variable has few values it is followed for each, as AT and TAB hang together. */
export function print(asked: Print, state: State): boolean {
  const { items } = asked;
  if (printsByLots(items, state)) return printApart(asked, state);
  state.draw(drawsOfAll(items.flatMap(expressionsOfItem)));
  const name = severalPlaces(items, state);
  if (name === undefined) return printAll(asked, state);
  const held = state.variables.get(name)!;
  const { low, high } = held.number!;
  let all: State | undefined;
  for (let value = low; value <= high; value++) {
    const one = state.copy();
    one.hold(name, { ...held, number: range(value) });
    if (!printAll(asked, one)) continue;
    if (all === undefined) all = one;
    else all.join(one, false);
  }
  if (all === undefined) return false;
  state.takeDisplay(all);
  return true;
}

/** Prints lot by lot, or where that is not known, as if each printed wherever one may. */
function printApart(asked: Print, state: State): boolean {
  const { items, longest, watch } = asked;
  const work = workOf(state, watch);
  const stays = printLots(items, state, longest, work.reckon);
  if (stays !== undefined) {
    work.end();
    return stays;
  }
  state.draw(drawsOfAll(items.flatMap(expressionsOfItem)));
  state.cursor = { ...state.cursor };
  return printAll(asked, state);
}

/** PLOT and UNPLOT. */
export function plot(args: readonly Expression[], state: State, longest: number): boolean {
  const stays = plotLots(args, state);
  if (stays !== undefined) return stays;
  state.draw(drawsOfAll(args));
  return printed(state, longest, (printing) => printing.plot(args));
}

function printAll({ items, longest, watch }: Print, state: State): boolean {
  const work = workOf(state, watch);
  const print = (printing: Printing) => printing.print(items, state.cursor);
  const stays = printed(state, longest, print, work.reckon);
  work.end();
  return stays;
}

/** Tells of the room that each item needs while it is reckoned; strings stay until the end. */
function workOf(state: State, watch: Watch): { reckon(item: PrintItem): void; end(): void } {
  let strings = 0;
  return {
    reckon: (item) => {
      const cost = itemCost(item, state);
      strings += cost.strings;
      watch.working(state, { ...cost, strings });
    },
    end: () => watch.printed(state, strings),
  };
}

function severalPlaces(items: readonly PrintItem[], state: State): Name | undefined {
  const places = items.filter(({ kind }) => kind === 'AT' || kind === 'TAB');
  // Of one place the bounds tell as much, and for each lot it takes long.
  const few = state.lots?.display === undefined ? 1 : 2;
  if (places.length < few) return undefined;
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
