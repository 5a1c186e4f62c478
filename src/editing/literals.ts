/** What a literal stands for where it stands. */
import type { Use } from '../analysis/steps.js';

/** Is it an address: after PEEK or USR, or the first of a POKE? */
export function isAddress({ node, parent, step }: Use): boolean {
  if (parent !== undefined) {
    const { node: above } = parent;
    if (above.kind === 'brackets') return isAddress(parent);
    return above.kind === 'call' && (above.function === 'PEEK' || above.function === 'USR');
  }
  const { statement } = step;
  return statement?.kind === 'POKE' && statement.args[0] === node;
}
