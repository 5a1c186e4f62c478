import { defineConfig } from 'vitest/config';

export default defineConfig({
  define: { LISTWRIGHT_VERSION: JSON.stringify('test') },
  test: {
    include: ['tests/**/*.test.ts'],
    // A property test may take some seconds on a busy machine.
    testTimeout: 60_000,
    // Two cores, and one worker more: those that wait for a browser or a process leave theirs idle.
    maxWorkers: 3,
    // A worker keeps what it has loaded from file to file: that is most of what a small file takes.
    isolate: false,
  },
});
