import { defineConfig } from 'vitest/config';

export default defineConfig({
  define: { LISTWRIGHT_VERSION: JSON.stringify('test') },
  test: {
    include: ['tests/**/*.test.ts'],
    // Two cores: a worker each; a property test may take some seconds on a busy machine.
    testTimeout: 60_000,
    maxWorkers: 2,
    // A worker keeps what it has loaded from file to file: that is most of what a small file takes.
    isolate: false,
  },
});
