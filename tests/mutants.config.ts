import { defineConfig } from 'vitest/config';

/**
 * The tests that `npm run mutants` runs against every change: the engine's own, each in a few milliseconds, and the
 * published doses, which ask one function.
 */
export default defineConfig({
  test: {
    environment: 'node',
    isolate: false, // the engine keeps no state between tests
    include: ['tests/engine/**/*.test.ts', 'tests/published/doses.test.ts'],
  },
});
