/** How the parser starts: what Chevrotain learns of its rules at once, and what when it is needed. */
import { type ILookaheadStrategy, LLkLookaheadStrategy } from 'chevrotain';
import { Fold } from './fold.js';
import { Nodes } from './nodes.js';

/** Works out what a choice looks ahead for when it first comes to it: a start need not wait for all. */
export class LookaheadWhenNeeded extends LLkLookaheadStrategy {
  override buildLookaheadForAlternation: Strategy['buildLookaheadForAlternation'] = (options) =>
    whenNeeded(() => super.buildLookaheadForAlternation(options));

  override buildLookaheadForOptional: Strategy['buildLookaheadForOptional'] = (options) =>
    whenNeeded(() => super.buildLookaheadForOptional(options));
}

type Strategy = ILookaheadStrategy;

function whenNeeded<F extends (this: never, alternatives: never) => unknown>(build: () => F): F {
  let built: F | undefined;
  return function (this: never, alternatives: never) {
    built ??= build();
    return built.call(this, alternatives);
  } as F;
}

/**
 * Stands for everything that makes nodes while Chevrotain runs each rule once, without tokens, to
 * learn its shape: whatever is asked of it, it gives itself.
 */
export const NOTHING = {} as Nodes & Fold;
for (const { prototype } of [Nodes, Fold]) {
  for (const name of Object.getOwnPropertyNames(prototype)) {
    Object.assign(NOTHING, { [name]: () => NOTHING });
  }
}
