import { defineConfig } from 'vitest/config';

const report = process.env['OHMSTEAD_TEST_REPORT'];

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['packages/*/test/**/*.test.ts', 'test/**/*.test.ts'],
    exclude: ['**/node_modules/**', 'test/workbench/**'],
    setupFiles: ['packages/language/polyfill.mjs', 'test/fast-check-seed.ts'],
    reporters: report ? ['default', ['json', { outputFile: report }]] : ['default'],
    // The built command is loaded as it ships.
    server: { deps: { external: [/\/packages\/cli\/dist\//] } },
    testTimeout: 60_000,
  },
});
