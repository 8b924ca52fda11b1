// The built command in a real git repository: revisions, imports at a revision, the diff driver, merges.
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { bin, ohmstead as runIn } from '../../packages/cli/test/ohmstead.js';

const root = new URL('../..', import.meta.url).pathname;
const asFound = readFileSync(join(root, 'examples/as-found-bell.wiring'), 'utf8');
/** Spaces, quotes, letters beyond ASCII, and what could be an option or a revision. */
const ODD = ['house one/bell "as found".wiring', '-bell.wiring', 'türe.wiring', 'HEAD.wiring', "it's $HOME.wiring"];
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'ohmstead git '));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
beforeEach(() => {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder);
  git('init', '--quiet', '--initial-branch=main');
});

function git(...args: string[]): string {
  const run = spawnSync('git', ['-c', 'user.name=Test', '-c', 'user.email=test@example.invalid', ...args], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, GIT_CONFIG_GLOBAL: '/dev/null', GIT_CONFIG_SYSTEM: '/dev/null' },
  });
  if (run.status !== 0) throw new Error(`git ${args.join(' ')}: ${run.stdout}${run.stderr}`);
  return run.stdout;
}

const ohmstead = (...args: string[]) => runIn(args, { cwd: folder });

function commit(files: Readonly<Record<string, string>>, message = 'Record'): void {
  for (const [name, text] of Object.entries(files)) write(name, text);
  git('add', '--all');
  git('commit', '--quiet', '--message', message);
}

function write(name: string, text: string): void {
  mkdirSync(dirname(join(folder, name)), { recursive: true });
  writeFileSync(join(folder, name), text);
}

/** What git was asked in one run of the command, as its own trace tells. */
async function askedOfGit(...args: string[]): Promise<string[]> {
  const trace = join(folder, '.git', 'asked');
  rmSync(trace, { force: true });
  await runIn(args, { cwd: folder, env: { GIT_TRACE: trace } });
  return readFileSync(trace, 'utf8').match(/built-in: git .*/g) ?? [];
}

const longer = (text: string, from = '9 m', to = '60 m'): string => {
  expect(text).toContain(from);
  return text.replace(from, to);
};

test('git is asked nothing twice, also where the whole record has to be read', async () => {
  commit({ 'bell.wiring': asFound });
  write('bell.wiring', longer(asFound));
  const short = await askedOfGit('compare', 'bell.wiring');
  write('bell.wiring', asFound.replace('rating 16 V AC, 10 VA', 'ratin 16 V AC, 10 VA'));
  const whole = await askedOfGit('compare', 'bell.wiring');
  expect(short.length).toBeGreaterThan(0);
  expect(whole).toEqual([...new Set(whole)]);
  expect(whole).toEqual(short);
});

describe('a file at a revision', () => {
  test.each(ODD)('%s', async (name) => {
    commit({ [name]: asFound });
    write(name, longer(asFound));
    const args = name.startsWith('-') ? `./${name}` : name;
    const against = await ohmstead('compare', `git:HEAD:${args}`, args);
    expect(against.err).toBe('');
    expect(against.out).toContain('tx-to-hall: 29 ft 6 in, now 196 ft 10 in');
    expect((await ohmstead('compare', args)).out).toBe(against.out);
    expect((await ohmstead('compare', `git:HEAD:${args}`, `git::${args}`)).out).toContain('The wiring is the same.');
  });

  test('by branch, tag, abbreviated name and what a message says', async () => {
    commit({ 'a.wiring': asFound }, 'Door: as found');
    git('tag', 'v1');
    const short = git('rev-parse', '--short', 'HEAD').trim();
    commit({ 'a.wiring': longer(asFound) }, 'Longer');
    for (const revision of ['v1', 'HEAD~1', short, 'main@{0}~1', 'HEAD^{/Door: as}']) {
      const run = await ohmstead('compare', `git:${revision}:a.wiring`, 'git:main:a.wiring');
      expect(run.err, revision).toBe('');
      expect(run.out).toContain('restated  tx-to-hall');
    }
  });

  test('in a folder below the root, from that folder and from the root', async () => {
    commit({ 'site/a.wiring': asFound });
    write('site/a.wiring', longer(asFound));
    const below = await runIn(['compare', 'git:HEAD:a.wiring', 'a.wiring'], { cwd: join(folder, 'site') });
    expect(below.out).toBe((await ohmstead('compare', 'git:HEAD:site/a.wiring', 'site/a.wiring')).out);
    expect(below.status).toBe(0);
  });

  test('with what it imports, and what it changes, as these were then', async () => {
    const part =
      'device type house-push "Push" {\n    terminal a, b\n    contact a to b momentary\n    role button\n}\n';
    const own = `import "types/house.wiring"\n${asFound.replace(/push-button/g, 'house-push')}`;
    const plan = 'wiring "Plan"\nchanges "a.wiring"\n\nreplace run tx-to-hall : 16/3\n';
    commit({ 'a.wiring': own, 'types/house.wiring': part, 'plan.wiring': plan });
    write('types/house.wiring', part.replace('role button', 'rating 30 V, 1 A\n    role button'));
    const run = await ohmstead('compare', 'git:HEAD:a.wiring', 'a.wiring', '--format', 'json');
    const parts = JSON.parse(run.out).parts.map((one: { name: { after: string } }) => one.name.after);
    expect(parts).toEqual(['porch-button', 'yard-button']);
    expect((await ohmstead('compare', 'git:HEAD:plan.wiring')).out).toContain('replaced  tx-to-hall: 18/3, now 16/3');
  });
});

describe('levels of the workspace', () => {
  const levels = (text: string): Record<string, string> => ({ '.ohmstead.json': text });
  const shortOfLength = asFound.replace(', about 34 ft', '');

  test('are those of the same revision', async () => {
    commit({ 'a.wiring': shortOfLength });
    const told = async () =>
      JSON.parse((await ohmstead('compare', 'git:HEAD~1:a.wiring', 'a.wiring', '--format', 'json')).out).findings;
    commit(levels('{ "levels": { "short-record": "off" } }'), 'Levels');
    expect(await told()).toMatchObject({ gone: [{ code: 'short-record', severity: 'hint' }], new: [], kept: 0 });
    commit(levels('{ "levels": { "short-record": "warning" } }'), 'Other levels');
    expect(await told()).toMatchObject({ gone: [], new: [{ code: 'short-record', severity: 'warning' }], kept: 0 });
    expect((await ohmstead('check', '--against', 'git:HEAD', 'a.wiring')).out).toBe('1 record: no findings\n');
    expect((await ohmstead('check', '--against', 'git:HEAD~1', 'a.wiring')).out).toContain('warning short-record');
  });

  test('that could not be honoured then are said with the revision', async () => {
    commit({ 'a.wiring': asFound, ...levels('{ "levels": { "drop-hihg": "off" } }') });
    write('.ohmstead.json', '{}');
    const run = await ohmstead('compare', 'git:HEAD:a.wiring', 'a.wiring');
    expect(run.err).toBe(
      "ohmstead: .ohmstead.json at `HEAD`: `drop-hihg` is no check's code. Did you mean `drop-high`?\n",
    );
    expect(run.status).toBe(0);
  });
});

describe('what is no file at a revision', () => {
  test.each([
    ['git:--help:a.wiring', 'is not a revision'],
    ['git:-n1:a.wiring', 'is not a revision'],
    ['git:--output=stolen:a.wiring', 'is not a revision'],
    ['git:nowhere:a.wiring', 'is not a revision'],
    ['git:HEAD:missing.wiring', 'There is no file'],
    ['git:HEAD:../outside.wiring', 'There is no file'],
    ['git:HEAD', 'names no file'],
  ])('%s', async (argument, words) => {
    commit({ 'a.wiring': asFound });
    const run = await ohmstead('compare', argument, 'a.wiring');
    expect(run.status).toBe(2);
    expect(run.err).toContain(words);
    expect(run.out).toBe('');
    expect(git('status', '--porcelain')).toBe('');
  });

  test('outside of any repository', async () => {
    rmSync(join(folder, '.git'), { recursive: true });
    write('a.wiring', asFound);
    const run = await ohmstead('compare', 'a.wiring');
    expect(run).toMatchObject({ status: 2, out: '' });
    expect(run.err).toContain('not in a git repository');
  });
});

describe('check --against', () => {
  const shorted = `${asFound}\njumper slip : hall-chime.trans to hall-chime.front\n`;

  test('fails only on what the change brought', async () => {
    commit({ 'a.wiring': shorted });
    expect((await ohmstead('check', 'a.wiring')).status).toBe(1);
    expect(await ohmstead('check', '--against', 'git:HEAD', 'a.wiring')).toMatchObject({ status: 0 });
    write('a.wiring', shorted.replace('yard-button.b', 'yard-button.bb'));
    const run = await ohmstead('check', '--against', 'git:HEAD:a.wiring', 'a.wiring');
    expect(run.status).toBe(1);
    expect(run.out).toContain('unknown-terminal');
    expect(run.out).toContain('1 record: 1 error');
  });

  test('of a record that was not there takes everything as new', async () => {
    commit({ 'a.wiring': asFound });
    write('b.wiring', shorted);
    expect((await ohmstead('check', '--against', 'git:HEAD', '.')).status).toBe(1);
    expect((await ohmstead('check', '--against', 'git:nowhere', '.')).status).toBe(2);
  });
});

describe('git itself', () => {
  /** As the command line's README says it is set up. */
  function setUp(): void {
    git('config', 'diff.ohmstead.textconv', `"${process.execPath}" "${bin}" lines`);
    write('.gitattributes', '*.wiring diff=ohmstead\n');
  }

  test('shows no difference where a record is only laid out or ordered anew', () => {
    commit({ 'a b.wiring': asFound });
    setUp();
    const blocks = asFound.trim().split('\n\n');
    const [head, ...rest] = blocks;
    write('a b.wiring', `${[head, ...rest.reverse()].join('\n\n\n').replace(/ {2,}(?=to )/g, ' ')}\n`);
    expect(git('diff', '--', 'a b.wiring').replace(/^(diff|index|---|\+\+\+).*\n/gm, '')).toBe('');
    expect(git('diff', '--no-textconv', '--', 'a b.wiring')).toContain('@@');
  });

  test('shows a change of the wiring as the lines that tell of it', () => {
    commit({ 'a.wiring': asFound });
    setUp();
    const changed = asFound.replace('yard-return   to  hall-chime.rear', 'porch-return  to  hall-chime.rear');
    expect(changed).not.toBe(asFound);
    commit({ 'a.wiring': changed }, 'Move green');
    const lines = git('log', '-1', '--patch', '--', 'a.wiring')
      .split('\n')
      .filter((line) => /^[-+] /.test(line));
    expect(lines).toEqual([
      '-    tx-to-hall: green yard-return to hall-chime.rear',
      '+    tx-to-hall: green porch-return to hall-chime.rear',
    ]);
  });

  test('merges two branches that touched different parts of one record', async () => {
    commit({ 'a.wiring': asFound });
    git('switch', '--quiet', '--create', 'supply');
    commit({ 'a.wiring': asFound.replace('output 16 V AC, 10 VA', 'output 16 V AC, 20 VA') }, 'Larger supply');
    git('switch', '--quiet', 'main');
    commit({ 'a.wiring': longer(asFound, 'about 34 ft', '36 ft') }, 'Measured the yard run');
    git('merge', '--quiet', '--no-edit', 'supply');
    expect((await ohmstead('format', '--check', 'a.wiring')).status).toBe(0);
    const run = await ohmstead('compare', 'git:main~1:a.wiring', 'a.wiring');
    expect(run.out).toContain('bell-tx: output 16 V AC, 10 VA, now 16 V AC, 20 VA');
    expect(run.out).not.toContain('tx-to-yard: ');
  });

  test('finds the examples of the documentation as they are shipped', async () => {
    cpSync(join(root, 'examples'), join(folder, 'examples'), { recursive: true });
    commit({});
    expect((await ohmstead('check', '--against', 'git:HEAD', 'examples')).status).toBe(0);
  });
});
