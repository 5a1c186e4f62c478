/**
 * What the tests import as `fast-check` when mutants are run: fewer runs of a property, since each
 * mutant needs them again, and nothing is shrunk, since a property that fails has found the mutant.
 */
import fc from 'fast-check';

const RUNS = 40;

const few = {
  ...fc,
  /** Whether a property has failed since this was set. */
  failed: false,
  assert(property, settings) {
    const numRuns = Math.min(settings?.numRuns ?? RUNS, RUNS);
    try {
      return fc.assert(property, { ...settings, numRuns, endOnFailure: true });
    } catch (error) {
      few.failed = true;
      throw error;
    }
  },
};

export default few;
