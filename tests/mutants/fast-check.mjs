/**
 * What the tests import as `fast-check` when mutants are run: fewer runs of a property, since each
 * mutant needs them again, and nothing is shrunk, since a property that fails has found the mutant.
 */
import fc from 'fast-check';

const RUNS = 40;

const few = {
  ...fc,
  /** Whether properties have all their runs. */
  all: false,
  assert: (property, settings) =>
    fc.assert(property, {
      ...settings,
      numRuns: few.all ? settings?.numRuns : Math.min(settings?.numRuns ?? RUNS, RUNS),
      endOnFailure: true,
    }),
};

export default few;
