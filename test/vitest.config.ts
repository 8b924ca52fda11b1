import { defineConfig } from 'vitest/config';
import { BaseSequencer } from 'vitest/node';

const report = process.env['OHMSTEAD_TEST_REPORT'];

/** The longest file first, so that no processor is left with it at the end while the others have nothing to do. */
class LongestFirst extends BaseSequencer {
  override async sort(files: Parameters<BaseSequencer['sort']>[0]) {
    const sorted = await super.sort(files);
    const isLongest = ({ moduleId }: (typeof files)[number]) => moduleId.endsWith('/mutations.test.ts');
    return [...sorted.filter(isLongest), ...sorted.filter((file) => !isLongest(file))];
  }
}

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['packages/*/test/**/*.test.ts', 'test/**/*.test.ts'],
    exclude: ['**/node_modules/**', 'test/workbench/**'],
    setupFiles: ['packages/language/polyfill.mjs', 'test/fast-check-seed.ts'],
    reporters: report ? ['default', ['json', { outputFile: report }]] : ['default'],
    // The built command is loaded as it ships.
    server: { deps: { external: [/\/packages\/cli\/dist\//] } },
    sequence: { sequencer: LongestFirst },
    testTimeout: 60_000,
  },
});
