import { defineConfig } from 'vitest/config';

export default defineConfig({
  define: { LISTWRIGHT_VERSION: JSON.stringify('test') },
  test: {
    include: ['tests/**/*.test.ts'],
    // Two cores: a worker each; a property test may take some seconds on a busy machine.
    testTimeout: 60_000,
    maxWorkers: 2,
  },
});
