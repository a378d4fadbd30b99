import { defineConfig } from 'vitest/config';

// Each file is isolated, as vitest has it anyway: shared modules would keep what another mutant made of their tables and memories.
export default defineConfig({
  test: {
    include: JSON.parse(process.env['KERFLINT_MUTANT_TESTS']!),
    testTimeout: 0,
    isolate: true,
    env: { NO_COLOR: '1' },
  },
});
