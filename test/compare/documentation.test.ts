// The command line's README: its hooks and the scripts of its workflow are run as they stand there, in a real repository.
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';

const root = new URL('../..', import.meta.url).pathname;
const readme = readFileSync(join(root, 'packages/cli/README.md'), 'utf8');
const asFound = readFileSync(join(root, 'examples/as-found-bell.wiring'), 'utf8');
const shorted = `${asFound}\njumper slip : hall-chime.trans to hall-chime.front\n`;
let temporary = '';
let folder = '';

beforeAll(() => {
  temporary = mkdtempSync(join(tmpdir(), 'ohmstead readme '));
  folder = join(temporary, 'records');
  mkdirSync(join(temporary, 'bin'));
  const command = join(temporary, 'bin', 'ohmstead');
  writeFileSync(
    command,
    `#!/bin/sh\nexec "${process.execPath}" "${join(root, 'packages/cli/bin/ohmstead.js')}" "$@"\n`,
  );
  chmodSync(command, 0o755);
});
afterAll(() => rmSync(temporary, { recursive: true, force: true }));
beforeEach(() => {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder);
  run('git', ['init', '--quiet', '--initial-branch=main']);
});

function run(command: string, args: readonly string[], more: Readonly<Record<string, string>> = {}) {
  const env = {
    ...process.env,
    PATH: `${join(temporary, 'bin')}:${process.env['PATH']}`,
    GIT_CONFIG_GLOBAL: '/dev/null',
    GIT_CONFIG_SYSTEM: '/dev/null',
    GIT_AUTHOR_NAME: 'Test',
    GIT_AUTHOR_EMAIL: 'test@example.invalid',
    GIT_COMMITTER_NAME: 'Test',
    GIT_COMMITTER_EMAIL: 'test@example.invalid',
    ...more,
  };
  const { status, stdout, stderr } = spawnSync(command, args, { cwd: folder, encoding: 'utf8', env });
  return { status, out: stdout, err: stderr };
}

function write(name: string, text: string): void {
  mkdirSync(dirname(join(folder, name)), { recursive: true });
  writeFileSync(join(folder, name), text);
}

function commit(files: Readonly<Record<string, string>>) {
  for (const [name, text] of Object.entries(files)) write(name, text);
  run('git', ['add', '--all']);
  return run('git', ['commit', '--quiet', '--message', 'Record']);
}

/** The one fenced block that has these words in it. */
function block(words: string): string {
  const found = [...readme.matchAll(/^```\w*\n([\s\S]*?)^```$/gm)].map((match) => match[1]!);
  const [one, ...others] = found.filter((text) => text.includes(words));
  if (one === undefined || others.length > 0) throw new Error(`${others.length + 1} blocks have: ${words}`);
  return one;
}

/** What a step of the workflow runs, by its name. */
function step(name: string): string {
  const steps = block('name: wiring\non: pull_request').split(/^ {6}- /m);
  const found = steps.find((one) => one.startsWith(`name: ${name}\n`));
  const script = /^ {8}run: (?:\|\n((?: {10}.*\n|\n)+)|(.+)\n)/m.exec(found ?? '');
  if (!script) throw new Error(`No script of the step ${name}`);
  return script[2] ?? script[1]!.replace(/^ {10}/gm, '');
}

test('git diff as it is set up reads every record, whatever it is called', () => {
  expect(run('sh', ['-c', block("diff.ohmstead.textconv 'ohmstead")])).toMatchObject({ status: 0 });
  const names = ['-dash.wiring', 'it\'s "a $house".wiring', 'größe:x.wiring'];
  const all = (text: string) => Object.fromEntries(names.map((name) => [name, text]));
  commit(all(asFound));
  for (const name of names) write(name, asFound.replace('output 16 V AC, 10 VA', 'output 16 V AC, 30 VA'));
  const { status, out, err } = run('git', ['diff']);
  expect({ status, err }).toEqual({ status: 0, err: '' });
  expect(out.match(/^\+ {4}bell-tx: output 16 V AC, 30 VA$/gm)).toHaveLength(names.length);
  for (const name of names) {
    const compared = run('ohmstead', ['compare', '--', name]);
    expect(compared.out, compared.err).toContain('replaced  bell-tx: output 16 V AC, 10 VA, now 16 V AC, 30 VA');
  }
});

describe('the hook before a commit', () => {
  beforeEach(() => {
    commit({ 'as found.wiring': shorted });
    write('.git/hooks/pre-commit', block('#!/bin/sh'));
    chmodSync(join(folder, '.git/hooks/pre-commit'), 0o755);
  });

  test('lets faults stand that were committed already', () => {
    expect(commit({ 'as found.wiring': shorted.replace('9 m', '10 m') })).toMatchObject({ status: 0 });
  });

  test('stops a new fault, and a layout that is not the formatter’s', () => {
    const fault = commit({ "it's new.wiring": shorted, '-dash.wiring': shorted });
    expect(fault.status).toBe(1);
    // What a hook prints, git gives as its own messages.
    expect(fault.err).toContain('supply-shorted');
    const layout = commit({
      "it's new.wiring": asFound.replace('supply', '  supply'),
      '-dash.wiring': asFound,
    });
    expect(layout.status).toBe(1);
    expect(layout.out + layout.err).toContain("it's new.wiring");
    expect(run('git', ['rev-list', '--count', 'HEAD']).out).toBe('1\n');
  });

  test('is not in the way of other files', () => {
    expect(commit({ 'notes.txt': 'wiring' })).toMatchObject({ status: 0 });
  });
});

describe('the workflow', () => {
  const plan = (base: string): string =>
    `wiring "Plan"\nchanges "${base}"\n\nreplace supply bell-tx { output 16 V AC, 30 VA }\n`;
  let base = '';
  const script = (name: string) =>
    run('bash', ['-eo', 'pipefail', '-c', step(name)], {
      BASE: base,
      RUNNER_TEMP: temporary,
      GITHUB_STEP_SUMMARY: join(temporary, 'summary.md'),
      GITHUB_WORKSPACE: folder,
    });

  beforeEach(() => {
    rmSync(join(temporary, 'summary.md'), { force: true });
    commit({ 'house one/"old" bell.wiring': asFound, 'shorted.wiring': shorted });
    base = run('git', ['rev-parse', 'HEAD']).out.trim();
  });

  test('annotates what a change brings, and nothing that stood there before', () => {
    commit({ 'shorted.wiring': shorted.replace('9 m', '10 m') });
    expect(script('Annotate')).toMatchObject({ status: 0, out: expect.stringMatching(/^\d records: /) });
    commit({ 'house one/"old" bell.wiring': shorted });
    const told = script('Annotate');
    expect(told.status).toBe(1);
    expect(told.out).toMatch(/^::error file=house one\/"old" bell\.wiring,line=\d+,.*title=supply-shorted::/);
  });

  test('compares records that are changed and plans that are new, whatever they are called', () => {
    commit({
      'house one/"old" bell.wiring': asFound.replace('9 m', '60 m'),
      '-new plan.wiring': plan('shorted.wiring'),
      'new.wiring': asFound,
    });
    expect(script('Compare')).toMatchObject({ status: 0 });
    const comment = readFileSync(join(temporary, 'comparison.md'), 'utf8');
    expect(comment).toContain('196 ft 10 in');
    expect(comment).toContain('16 V AC, 30 VA');
    expect(comment.match(/^#+ .*$/gm)!.length).toBeGreaterThan(1);
    expect(readFileSync(join(temporary, 'summary.md'), 'utf8')).toBe(comment);
  });

  test('has nothing to comment on where no record was touched', () => {
    commit({ 'notes.txt': 'wiring' });
    expect(script('Compare')).toMatchObject({ status: 0 });
    expect(readFileSync(join(temporary, 'comparison.md'), 'utf8')).toBe('');
  });

  test('holds the layout', () => {
    expect(script('Layout')).toMatchObject({ status: 0 });
    commit({ 'new.wiring': asFound.replace('supply', '  supply') });
    expect(script('Layout').status).toBe(1);
  });

  test('writes SARIF although there are findings', () => {
    const line = /- run: (ohmstead check --format sarif .*)$/m.exec(readme)![1]!;
    expect(run('bash', ['-eo', 'pipefail', '-c', line])).toMatchObject({ status: 0 });
    expect(JSON.parse(readFileSync(join(folder, 'findings.sarif'), 'utf8')).version).toBe('2.1.0');
  });
});
