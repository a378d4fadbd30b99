import { defineConfig } from 'vitest/config';
import { NEVER_ENDING_MS, POLLED_MS } from './tests/patience.ts';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/processor-time.ts'],
    testTimeout: NEVER_ENDING_MS,
    hookTimeout: NEVER_ENDING_MS,
    teardownTimeout: NEVER_ENDING_MS,
    expect: { poll: { timeout: POLLED_MS } },
    maxWorkers: 2,
    env: { NO_COLOR: '1' },
  },
});
