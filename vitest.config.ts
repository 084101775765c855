import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    pool: 'forks',
    // The default leaves one core idle, which on two cores doubles the time.
    maxWorkers: 2,
    // The built library is loaded by Node itself: workers need it, and the landing loop runs at its real speed.
    server: { deps: { external: [/\/dist\//] } },
  },
});
