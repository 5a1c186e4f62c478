/** Settling by short rehearsals what the bounds of a budget leave open. */
import type { Expression, Listing } from '../../../grammar/tree.js';
import { analyse, type Program } from '../../analysis/program.js';
import { buildImage } from '../../image/build.js';
import { GLYPHS_END } from '../../machine/characters.js';
import type { Budget } from '../../memory/budget.js';
import type { Basis, Verdict } from '../../memory/verdict.js';
import { rehearse } from '../run.js';
import { type Measured, measure, measuredOf } from './measured.js';
import { measuredBudget } from './measured-budget.js';

/** Statements that short rehearsals of a program run at most, all together: some tenths of a second. */
const SHORT_RUN = 50_000;
const SHORT_RUNS = 20_000;
/** And frames that each may let pass: a statement can be as much work as hundreds of others. */
const SHORT_FRAMES = 100_000;
/** Rehearsals of a program that draws lots: so many are enough, and so few settle nothing. */
const MOST_SEEDS = 64;
const FEWEST_SEEDS = 16;
/** SEED holds 0 to 65535; steps of this size come to places all over it. */
const SEED_STEP = 40503;
/**
 * What lots that were not drawn may need beyond the fullest rehearsal: as much again as the rehearsals
 * lay apart, and this part of the RAM.
 */
const CAUTION = 1 / 32;

/** Statements by which a run can differ from the one before: a person, a tape. */
const DIFFERING_STATEMENTS = new Set(['INPUT', 'SAVE', 'LOAD', 'NEW', 'unchecked']);

/** What the next run of a program may do otherwise, with nobody at the keys. */
export type Difference = 'none' | 'lots' | 'anything';

/**
 * How runs of the program can differ. It does the same each time where it asks for nothing, draws no
 * lots, and looks at no address: what stands there may have changed by itself. Where RND is all that
 * differs, the seed alone decides.
 */
export function differenceOf({ steps, uses, flow, names }: Program): Difference {
  // A text that only the run makes may spell anything.
  if (names.unknownReads.length > 0) return 'anything';
  const reached = steps.filter(({ index }) => flow.reachable[index]);
  const differs = reached.some(
    ({ statement }) => statement === undefined || DIFFERING_STATEMENTS.has(statement.kind),
  );
  if (differs) return 'anything';
  const found = uses.filter(({ step }) => flow.reachable[step.index]).map(({ node }) => of(node));
  if (found.includes('anything')) return 'anything';
  const draws =
    found.includes('lots') || reached.some(({ statement }) => statement?.kind === 'RAND');
  return draws ? 'lots' : 'none';
}

function of(node: Expression): Difference {
  if (node.kind === 'constant' && node.name !== 'PI') {
    return node.name === 'RND' ? 'lots' : 'anything';
  }
  if (node.kind !== 'call') return 'none';
  if (node.function === 'PEEK' || node.function === 'USR') return 'anything';
  // RND, INKEY$, PEEK and USR within the text of a VAL.
  const spells =
    node.function === 'VAL' && node.argument.kind === 'string' && !isPlain(node.argument.codes);
  return spells ? 'anything' : 'none';
}

/** Codes of characters alone: no keyword, so nothing but numbers, names and signs. */
const isPlain = (codes: Uint8Array): boolean => codes.every((code) => code < GLYPHS_END);

/**
 * The verdict of a budget: where its bounds leave it open and nobody is needed at the keys, by short
 * rehearsals. One is enough for a program that runs alike each time. Of one that draws lots many
 * must have come to the end, run every line that can be reached, and left room enough for others
 * that need more; one that asks for more than there is proves that it may not run, and its seed is
 * told. What does not end soon settles nothing.
 */
export function settledVerdict(listing: Listing, budget: Budget, image?: Uint8Array): Verdict {
  const { verdict } = budget;
  if (verdict.kind !== 'may run') return verdict;
  const program = analyse(listing);
  switch (differenceOf(program)) {
    case 'none':
      return settledByOne(listing, budget, image);
    case 'lots':
      return settledByMany(program, budget, image);
    case 'anything':
      return verdict;
  }
}

function settledByOne(listing: Listing, budget: Budget, image?: Uint8Array): Verdict {
  const measured = measure(listing, {
    ram: budget.ram,
    image,
    statements: SHORT_RUN,
    frames: SHORT_FRAMES,
  });
  const settled = measuredBudget(budget, measured).verdict;
  if (!measured.whole && settled.kind !== 'does not run') return budget.verdict;
  const { whole, line } = measured;
  return { ...settled, basis: { on: 'rehearsal', whole, line, seeds: 1, alike: true } };
}

function settledByMany(program: Program, budget: Budget, image?: Uint8Array): Verdict {
  const { listing } = program;
  const { ram, verdict } = budget;
  const loaded = image ?? buildImage(listing, { ram }).image;
  const runs: Measured[] = [];
  let isWhole = true;
  let left = SHORT_RUNS;
  for (let at = 0; at < MOST_SEEDS; at++) {
    const seed = (1 + at * SEED_STEP) & 0xffff;
    const rehearsal = rehearse(listing, {
      ram,
      image: loaded,
      inDoubt: true,
      seed,
      statements: left,
      frames: SHORT_FRAMES,
    });
    left -= rehearsal.statements;
    const measured = measuredOf(rehearsal);
    if (measuredBudget(budget, measured).verdict.kind === 'does not run')
      return { ...verdict, basis: { ...verdict.basis, fillingSeed: seed } as Basis };
    if (left <= 0) break;
    isWhole &&= measured.whole;
    runs.push(measured);
  }
  if (!isWhole || runs.length < FEWEST_SEEDS || !allRun(program, runs)) return verdict;
  const sizes = runs.map(({ peak }) => peak.bytes);
  const [least, most] = [Math.min(...sizes), Math.max(...sizes)];
  if (most + (most - least) + CAUTION * ram > ram) return verdict;
  const fullest = runs[sizes.indexOf(most)];
  const settled = measuredBudget(budget, fullest).verdict;
  if (settled.kind !== 'runs') return verdict;
  const { whole, line } = fullest;
  return { ...settled, basis: { on: 'rehearsal', whole, line, seeds: runs.length, alike: false } };
}

/** Was every line that can be reached run at some time, and each IF's condition met? */
function allRun({ steps, flow }: Program, runs: readonly Measured[]): boolean {
  const never = runs.map(({ unrun, untaken }) => new Set([...unrun, ...untaken]));
  return steps.every(
    ({ index, line }) => !flow.reachable[index] || never.some((lines) => !lines.has(line.number)),
  );
}
