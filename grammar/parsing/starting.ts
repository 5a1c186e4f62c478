/** How the parser starts: what stands for its nodes while Chevrotain learns its rules. */
import { Fold } from './fold.js';
import { Nodes } from './nodes.js';

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
