import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const report = process.env.OHMSTEAD_TEST_REPORT;

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  test: {
    include: ['*.test.ts'],
    pool: 'forks',
    // One workbench at a time: two on a small machine slow each other beyond any sensible limit.
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 180_000,
    teardownTimeout: 20_000,
    expect: { poll: { timeout: 30_000, interval: 50 } },
    reporters: report ? ['default', ['json', { outputFile: report }]] : ['default'],
  },
});
