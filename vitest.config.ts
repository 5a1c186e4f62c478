import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Rooms with the longest tests, the longest first: they wait for browsers and processes, or hear
 * whole recordings. Begun first, none of them is left alone on one core at the end.
 */
const LONG = [/\/page\//, /package\.test/, /\/tape\/|tape-tools/, /\/cli\//];

class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const place = LONG.findIndex((room) => room.test(moduleId));
      return place < 0 ? LONG.length : place;
    };
    return (await super.sort(files)).sort((one, other) => rank(one) - rank(other));
  }
}

export default defineConfig({
  define: { LISTWRIGHT_VERSION: JSON.stringify('test') },
  test: {
    include: ['tests/**/*.test.ts'],
    sequence: { sequencer: LongFirst },
    // A property test may take some seconds on a busy machine.
    testTimeout: 60_000,
    // Two cores, and one worker more: those that wait for a browser or a process leave theirs idle.
    maxWorkers: 3,
    // A worker keeps what it has loaded from file to file: that is most of what a small file takes.
    isolate: false,
  },
});
