import { defineConfig } from 'vitest/config';

// Files share what they import: with hundreds of runs most time would else go into reading the same modules.
export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 0,
    isolate: false,
    env: { NO_COLOR: '1' },
  },
});
