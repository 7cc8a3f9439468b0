import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  // The examples name the package as its users do; here they are tried against the source.
  resolve: { alias: { emberline: join(import.meta.dirname, 'src/index.ts') } },
  test: {
    include: ['test/**/*.test.ts'],
    globalSetup: 'test/demo.ts',
    env: { TZ: 'UTC', NO_COLOR: '1' },
    testTimeout: 60_000,
    // The files share nothing but modules, and loading those anew for each of them costs more than the tests.
    pool: 'forks',
    isolate: false,
    maxWorkers: 2,
  },
});
