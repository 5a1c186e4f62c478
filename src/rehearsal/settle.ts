/** Settling by a short rehearsal what the bounds of a budget leave open. */
import type { Expression, Listing } from '../../grammar/tree.js';
import { analyse, type Program } from '../analysis/program.js';
import type { Budget } from '../memory/budget.js';
import type { Verdict } from '../memory/verdict.js';
import { measure } from './measured.js';
import { measuredBudget } from './measured-budget.js';

/** Statements that a short rehearsal runs at most: some hundredths of a second. */
const SHORT_RUN = 50_000;

/** Statements by which a run can differ from the one before: a person, a tape, a strip of paper. */
const DIFFERING_STATEMENTS = new Set([
  'INPUT',
  'PAUSE',
  'RAND',
  'SAVE',
  'LOAD',
  'NEW',
  'unchecked',
]);

/**
 * Does the program do the same on every run, with nobody at the keys? It asks for nothing, draws no
 * lots, and looks at no address: what stands there may have changed by itself.
 */
export function runsAlike(program: Program): boolean {
  const { steps, uses, flow, names } = program;
  // A text that only the run makes may spell anything.
  if (names.unknownReads.length > 0) return false;
  const differs = steps.some(
    ({ index, statement }) =>
      flow.reachable[index] &&
      (statement === undefined || DIFFERING_STATEMENTS.has(statement.kind)),
  );
  return !differs && !uses.some(({ node, step }) => flow.reachable[step.index] && isChance(node));
}

function isChance(node: Expression): boolean {
  if (node.kind === 'constant') return node.name !== 'PI';
  if (node.kind !== 'call') return false;
  if (node.function === 'PEEK' || node.function === 'USR') return true;
  // RND, INKEY$, PEEK and USR within the text of a VAL.
  return (
    node.function === 'VAL' && node.argument.kind === 'string' && !isPlain(node.argument.codes)
  );
}

/** Codes of characters alone: no keyword, so nothing but numbers, names and signs. */
const isPlain = (codes: Uint8Array): boolean => codes.every((code) => code < 64);

/**
 * The verdict of a budget: where its bounds leave it open, and the program runs alike each time, by
 * a short rehearsal. One that does not end soon settles nothing.
 */
export function settledVerdict(listing: Listing, budget: Budget, image?: Uint8Array): Verdict {
  const { verdict, ram } = budget;
  if (verdict.kind !== 'may run' || !runsAlike(analyse(listing))) return verdict;
  const measured = measure(listing, { ram, image, statements: SHORT_RUN });
  const settled = measuredBudget(budget, measured).verdict;
  if (!measured.whole && settled.kind !== 'does not run') return verdict;
  const { whole, line } = measured;
  return { ...settled, basis: { on: 'rehearsal', whole, line, alike: true } };
}
