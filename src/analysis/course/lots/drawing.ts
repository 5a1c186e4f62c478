/** Where lots are told apart, and how long. */
import type { Expression } from '../../../../grammar/tree.js';
import { wholeOf } from '../../../machine/arithmetic/operations.js';
import { single } from '../../expression-ranges.js';
import type { Flow } from '../../flow.js';
import type { Names } from '../../names.js';
import { expressionsOf, type Step } from '../../steps.js';
import { Alive, MOST_ALIVE } from '../alive.js';
import type { State } from '../state.js';
import { drawsOfAll } from './lot-values.js';
import { Beginning, Effort, Lots, SEEDS } from './lots.js';

export interface DrawingOptions {
  /** What SEED is taken to hold before the first RND. Default: anything that it can. */
  readonly seeds?: Uint16Array;
  readonly effort?: Effort;
}

export class Drawing {
  private readonly effort: Effort;
  private readonly seeds: Uint16Array | undefined;
  private readonly alive: Alive;

  /** `worth`: the lines before which lots are to be told apart. */
  constructor(
    flow: Flow,
    names: Names,
    private readonly worth: readonly boolean[],
    { seeds, effort = new Effort() }: DrawingOptions = {},
  ) {
    this.seeds = seeds;
    this.effort = effort;
    this.alive = new Alive(flow, names, [...names.all.keys()].slice(0, MOST_ALIVE));
  }

  /**
   * Before a line: from the first RND on lots are told apart, where that is worth it, and as long as
   * they differ in what is still to be read and are `followed`. Were they let go for want of effort?
   */
  before(step: Step, state: State, followed: boolean): boolean {
    if (!this.worth[step.index]) {
      state.forgetLots();
      return false;
    }
    if (!followed || this.effort.isSpent) return state.forgetLots();
    const { lots } = state;
    if (lots !== undefined) {
      for (const name of lots.values.keys()) {
        if (!this.alive.isAlive(step.index, name)) lots.forget(name);
      }
      for (const name of lots.limits.keys()) {
        if (!this.alive.isAlive(step.index, name)) lots.forgetLimit(name);
      }
      if (lots.areAlike) state.forgetLots();
    }
    if (state.lots === undefined) {
      const draws = drawsOfAll(expressionsOf(step));
      if (draws > 0 && draws < Infinity) {
        state.lots = new Lots(this.effort, new Beginning(this.seeds));
      }
    }
    return false;
  }

  /** RAND: SEED is the number that it names, or with 0 what nobody knows. */
  rand([node]: readonly Expression[], state: State): void {
    state.forgetLots();
    const found = node === undefined ? undefined : single(state.number(node));
    const seed = found === undefined ? 0 : wholeOf(found);
    if (seed <= 0 || seed >= SEEDS) return;
    state.lots = new Lots(this.effort, new Beginning(Uint16Array.of(seed)));
  }
}
