// The rules of the house that DEVELOPERS.md states, held as tests.
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';

const root = new URL('..', import.meta.url).pathname;
const tracked = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
  cwd: root,
  encoding: 'utf8',
})
  .split('\n')
  .filter((file) => file !== '');

const packages = ['circuit', 'record', 'language', 'views', 'cli', 'extension'] as const;
type Package = (typeof packages)[number];

/** What each package may import of this workspace, and which other modules it must not know. */
const rules: Record<Package, { may: readonly Package[]; mustNot: readonly RegExp[] }> = {
  circuit: { may: [], mustNot: [/.*/] },
  record: { may: ['circuit'], mustNot: [/^langium/, /^vscode/, /^node:/] },
  language: { may: ['circuit', 'record'], mustNot: [/^vscode$/, /^vscode-languageclient/] },
  views: { may: ['circuit', 'record'], mustNot: [/^langium/, /^vscode/, /^node:/, /^morphdom/] },
  cli: { may: ['circuit', 'record', 'language', 'views'], mustNot: [/^vscode$/, /^langium/] },
  extension: { may: ['circuit', 'record', 'language', 'views'], mustNot: [/^langium/] },
};

/** Files of the language package that are an entry of Node's, where files and processes may be known. */
const nodeEntries = /^packages\/language\/src\/(node|node-.*|server\/(main-.*|node-.*))\.ts$/;

function sourcesOf(name: Package): string[] {
  return tracked.filter((file) => file.startsWith(`packages/${name}/src/`) && file.endsWith('.ts'));
}

function importsOf(file: string): string[] {
  const text = readFileSync(join(root, file), 'utf8');
  const found = text.matchAll(/^(?:import|export)\b[^;'"]*?\bfrom\s+['"]([^'"]+)['"]/gm);
  const bare = text.matchAll(/^import\s+['"]([^'"]+)['"]/gm);
  const dynamic = text.matchAll(/\bimport\(\s*['"]([^'"]+)['"]/g);
  return [...found, ...bare, ...dynamic].map((match) => match[1]!);
}

describe('imports go one way', () => {
  for (const name of packages) {
    test(name, () => {
      const wrong: string[] = [];
      const sources = sourcesOf(name);
      expect(sources.length).toBeGreaterThan(0);
      for (const file of sources) {
        for (const module of importsOf(file)) {
          if (module.startsWith('.')) {
            const reached = new URL(module, `file:///${file}`).pathname.slice(1);
            if (!reached.startsWith(`packages/${name}/`)) wrong.push(`${file}: ${module} leaves the package`);
            continue;
          }
          const own = /^@ohmstead\/(\w+)/.exec(module);
          if (own) {
            if (!rules[name].may.includes(own[1] as Package)) wrong.push(`${file}: ${module}`);
          } else if (rules[name].mustNot.some((pattern) => pattern.test(module))) {
            wrong.push(`${file}: ${module}`);
          } else if (name === 'language' && module.startsWith('node:') && !nodeEntries.test(file)) {
            wrong.push(`${file}: ${module} outside the Node entries`);
          }
        }
      }
      expect(wrong).toEqual([]);
    });
  }
});

test('circuit has no dependency at run time', () => {
  const manifest = JSON.parse(readFileSync(join(root, 'packages/circuit/package.json'), 'utf8'));
  expect(manifest.dependencies ?? {}).toEqual({});
});

test('no source file is longer than 400 lines', () => {
  const long = tracked
    .filter((file) => /^(packages|test)\/.*\.(ts|mts|mjs)$/.test(file) && !file.includes('/generated/'))
    .map((file) => ({ file, lines: readFileSync(join(root, file), 'utf8').split('\n').length }))
    .filter(({ lines }) => lines > 401);
  expect(long).toEqual([]);
});

test('no device type of the library is named in code', () => {
  const library = tracked.filter((file) => file.startsWith('packages/language/library/') && file.endsWith('.wiring'));
  expect(library.length).toBeGreaterThan(0);
  const types = library.flatMap((file) =>
    [...readFileSync(join(root, file), 'utf8').matchAll(/^(?:device|supply) type (\S+)/gm)].map((match) => match[1]!),
  );
  expect(types.length).toBeGreaterThan(10);
  const named: string[] = [];
  for (const name of ['circuit', 'record', 'views'] as const) {
    for (const file of sourcesOf(name)) {
      const code = readFileSync(join(root, file), 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');
      for (const type of types) if (new RegExp(`['"\`]${type}['"\`]`).test(code)) named.push(`${file}: ${type}`);
    }
  }
  expect(named).toEqual([]);
});

test('every check has its page and every page its check', () => {
  const folder = join(root, 'packages/record/src/checks');
  const names = (ending: string) =>
    readdirSync(folder)
      .filter((file) => file.endsWith(ending))
      .map((file) => file.slice(0, -ending.length))
      .filter((name) => !['index', 'registry', 'types'].includes(name))
      .sort();
  expect(names('.ts').length).toBeGreaterThan(15);
  expect(names('.ts')).toEqual(names('.md'));
});

test('only what the house has stands at the top', () => {
  const visible = new Set(tracked.map((file) => file.split('/')[0]!).filter((name) => !name.startsWith('.')));
  expect([...visible].sort()).toEqual([
    'DEVELOPERS.md',
    'LICENSE',
    'README.md',
    'esbuild.mjs',
    'examples',
    'package-lock.json',
    'package.json',
    'packages',
    'test',
    'tsconfig.json',
  ]);
});

test('the README shows the two commands', () => {
  const readme = readFileSync(join(root, 'README.md'), 'utf8');
  expect(readme).toContain('npm ci && npm start');
  expect(readme).toContain('npm ci && npm test');
});
