import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    env: { TZ: 'UTC', NO_COLOR: '1' },
    testTimeout: 30_000,
  },
});
