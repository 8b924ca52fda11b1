// The built command, with the arguments that a person or a CI job would give it.
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ohmstead as run } from './ohmstead.js';

const root = new URL('../../../', import.meta.url).pathname;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'ohmstead cli '));
  cpSync(join(root, 'examples'), join(folder, 'examples'), { recursive: true });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const ohmstead = (...args: string[]) => run(args, { cwd: folder });

function write(name: string, text: string): string {
  writeFileSync(join(folder, name), text);
  return name;
}

function changed(example: string, from: string, to: string, name = 'changed.wiring'): string {
  const text = readFileSync(join(folder, 'examples', example), 'utf8');
  expect(text).toContain(from);
  return write(name, text.replace(from, to));
}

function valid(schema: string, value: unknown): string {
  const ajv = new Ajv2020({ strict: false });
  const check = ajv.compile(JSON.parse(readFileSync(join(root, schema), 'utf8')));
  return check(value) ? '' : ajv.errorsText(check.errors);
}

describe('check', () => {
  test('a clean record gives status 0 and says so', async () => {
    const run = await ohmstead('check', 'examples/as-found-bell.wiring');
    expect(run).toEqual({ status: 0, out: '1 record: no findings\n', err: '' });
  });

  test('a wrong terminal gives status 1, its line and the token underlined', async () => {
    const file = changed('as-found-bell.wiring', 'hall-chime.rear', 'hall-chime.raer');
    const run = await ohmstead('check', file);
    expect(run.status).toBe(1);
    expect(run.out).toMatch(/^changed\.wiring:\d+:\d+: error unknown-terminal\n/);
    expect(run.out).toContain('Did you mean');
    const lines = run.out.split('\n');
    const shown = lines.findIndex((line) => line.includes('hall-chime.raer') && line.includes(' | '));
    expect(lines[shown + 1]!.indexOf('~~~~')).toBe(lines[shown]!.indexOf('raer'));
    expect(run.out.trimEnd().endsWith('1 record: 1 error')).toBe(true);
  });

  test('JSON fits its schema, and its counts are those of the findings', async () => {
    const run = await ohmstead('check', '--format', 'json', 'examples');
    const found = JSON.parse(run.out);
    expect(valid('packages/cli/schema/check.schema.json', found)).toBe('');
    expect(run.status).toBe(1);
    for (const severity of ['error', 'warning', 'info', 'hint']) {
      const count = found.findings.filter(
        (f: { severity: string; accepted: boolean }) => f.severity === severity && !f.accepted,
      );
      expect(found.summary[severity]).toBe(count.length);
    }
    expect(found.findings.some((f: { file: string }) => f.file === 'examples/doorbell-first-try.wiring')).toBe(true);
  });

  test('--fail-on moves the limit, and accepted findings never fail', async () => {
    expect((await ohmstead('check', '--fail-on', 'hint', 'examples/doorbell-done-right.wiring')).status).toBe(0);
    const file = changed('as-found-bell.wiring', ', about 34 ft', '', 'short.wiring');
    expect((await ohmstead('check', file)).status).toBe(0);
    expect((await ohmstead('check', '--fail-on', 'hint', file)).status).toBe(1);
  });

  test('levels of the workspace file hold, for the budget too, and what can not be honoured is said with status 2', async () => {
    const workspace = join(folder, 'levels');
    mkdirSync(join(workspace, '.git'), { recursive: true });
    cpSync(join(folder, 'examples/doorbell-first-try.wiring'), join(workspace, 'a.wiring'));
    const settings = (text: string) => writeFileSync(join(workspace, '.ohmstead.json'), text);
    settings('{ "levels": { "supply-too-small": "warning", "ring-setting-unknown": "off" } }');
    const run = await ohmstead('check', 'levels/a.wiring');
    expect(run.out).toContain('warning supply-too-small');
    expect(run.err).toBe('');
    const budget = JSON.parse((await ohmstead('budget', '--format', 'json', 'levels/a.wiring')).out);
    expect(budget.findings).toContainEqual(expect.objectContaining({ code: 'supply-too-small', severity: 'warning' }));
    settings('{ "levels": { "supply-shorted": "off", "drop-high": "off" } }');
    const refused = await ohmstead('check', 'levels/a.wiring');
    expect(refused.status).toBe(2);
    expect(refused.err).toContain('`supply-shorted` is a danger: its level stays at error.');
    settings('{ "levels": ');
    expect((await ohmstead('check', 'levels/a.wiring')).err).toContain('.ohmstead.json: it is not JSON');
    rmSync(workspace, { recursive: true });
  });

  test('what cannot be run gives status 2 and one sentence each on standard error', async () => {
    mkdirSync(join(folder, 'empty'), { recursive: true });
    writeFileSync(join(folder, 'latin.wiring'), Buffer.from([0x77, 0xe9, 0x0a]));
    for (const [args, says] of [
      [['check', 'nowhere.wiring'], 'nowhere.wiring'],
      [['check', 'empty'], 'no .wiring file'],
      [['check', 'latin.wiring'], 'UTF-8'],
      [['check'], 'missing required argument'],
      [['check', '--format', 'yaml', 'examples'], 'Allowed choices are text, json'],
      [['chekc', 'examples'], 'unknown command'],
      [['budget', 'nowhere.wiring'], 'nowhere.wiring'],
      [['budget', 'examples'], 'folder'],
    ] as const) {
      const run = await ohmstead(...args);
      expect(run.status, args.join(' ')).toBe(2);
      expect(run.err, args.join(' ')).toContain(says);
      expect(run.err).not.toContain('    at ');
    }
  });

  test('a file that can be read is still checked beside one that cannot', async () => {
    const run = await ohmstead('check', 'examples/doorbell-first-try.wiring', 'nowhere.wiring');
    expect(run.status).toBe(2);
    expect(run.out).toContain('supply-too-small');
  });

  test('an imported file brings its parts, and a file given twice is checked once', async () => {
    write('house.wiring', 'place cellar\nplace hall\n');
    const text = readFileSync(join(folder, 'examples/as-found-bell.wiring'), 'utf8');
    const file = write(
      'imports.wiring',
      text.replace(/^place basement\nplace hall\n/m, 'import "house.wiring"\nplace basement\n'),
    );
    expect((await ohmstead('check', file, file)).out).toBe('1 record: no findings\n');
  });
});

describe('budget', () => {
  // 6 A for a while and 1.58 A that lasts, at 1.25 times: 7.98 A of 15 A (National Electrical Code, 210.19(A)(1) and 210.20(A)).
  test('the share of a breaker stands beside the amps that it is the share of', async () => {
    const { out } = await ohmstead('budget', 'examples/bell-with-line-side.wiring');
    expect(out).toContain('Carries 7.58 A, counted as 7.98 A: 53 % of its 15 A breaker');
  });

  test('JSON fits its schema, for every example', async () => {
    for (const name of readdirSync(join(folder, 'examples')).filter((file) => file.endsWith('.wiring'))) {
      const run = await ohmstead('budget', '--format', 'json', `examples/${name}`);
      expect(run.status, name).toBe(0);
      expect(valid('packages/record/schema/budget.schema.json', JSON.parse(run.out)), name).toBe('');
    }
  });

  test('its findings are those of check', async () => {
    const file = 'examples/doorbell-first-try.wiring';
    const budget = JSON.parse((await ohmstead('budget', '--format', 'json', file)).out);
    const check = JSON.parse((await ohmstead('check', '--format', 'json', file)).out);
    expect(budget.findings).toEqual(check.findings);
  });

  test('text, Markdown and HTML name the same worst share', async () => {
    const file = 'examples/as-found-bell.wiring';
    const worst = JSON.parse((await ohmstead('budget', '--format', 'json', file)).out).supplies[0].windings[0].worst
      .share;
    for (const format of ['text', 'md', 'html']) {
      expect((await ohmstead('budget', '--format', format, file)).out, format).toContain(`${(worst * 100).toFixed(0)}`);
    }
  });

  test('a page holds no script and asks for nothing from outside', async () => {
    const page = (await ohmstead('budget', '--format', 'html', 'examples/as-found-bell.wiring')).out;
    expect(page).not.toMatch(/<script|https?:|src=|@import|url\(/i);
  });
});

describe('probe', () => {
  test('volts across the button, at rest and held', async () => {
    const run = await ohmstead(
      'probe',
      '--format',
      'json',
      'examples/as-found-bell.wiring',
      'porch-button.a',
      'porch-button.b',
    );
    const { version, between, solved } = JSON.parse(run.out);
    expect({ version, between }).toEqual({ version: 1, between: ['porch-button.a', 'porch-button.b'] });
    const at = (closed: string[]) =>
      solved.find((row: { closed: string[] }) => row.closed.join() === closed.join()).volts;
    // A healthy circuit at rest shows the supply's open volts across the button, and nothing while it is held: common practice, no source.
    expect(at([])).toBeCloseTo(19.8, 6);
    expect(at(['porch-button'])).toBeCloseTo(0, 6);
  });

  test('ohms with the supplies isolated', async () => {
    const run = await ohmstead('probe', '--ohms', 'examples/as-found-bell.wiring', 'bell-tx.a', 'hall-chime.trans');
    expect(run.status).toBe(0);
    // 9 m of 18 AWG copper at 20.95 ohm/km (American Wire Gauge table, HyperPhysics) is 0.19 ohm.
    expect(run.out).toMatch(/0\.19 ohm/);
  });

  test('an unknown point offers the nearest', async () => {
    const run = await ohmstead('probe', 'examples/as-found-bell.wiring', 'hall-chime.frnt', 'bell-tx.a');
    expect(run.status).toBe(2);
    expect(run.err).toContain('Did you mean `hall-chime.front`');
  });
});

describe('format', () => {
  const untidy =
    'WIRING "x"\nplace   hall\nrun a:18/2 from hall to hall,9m {\nred x.a to y.b // kept\n white longer.a   to z.b\n}\n';

  test('--check only says which would change', async () => {
    const file = write('untidy.wiring', untidy);
    const run = await ohmstead('format', '--check', file);
    expect(run).toEqual({ status: 1, out: 'untidy.wiring would change\n', err: '' });
    expect(readFileSync(join(folder, file), 'utf8')).toBe(untidy);
  });

  test('writes in place, keeps comments, follows a link and changes nothing the second time', async () => {
    const file = write('tidy.wiring', untidy);
    symlinkSync(join(folder, file), join(folder, 'link.wiring'));
    expect((await ohmstead('format', 'link.wiring')).status).toBe(0);
    const text = readFileSync(join(folder, file), 'utf8');
    expect(text).toContain('// kept');
    expect(text).toMatch(/^wiring "x"$/m);
    expect((await ohmstead('format', '--check', file)).status).toBe(0);
    expect(readdirSync(folder).filter((name) => name.endsWith('.new'))).toEqual([]);
  });

  test('every example is as the formatter leaves it', async () => {
    expect(await ohmstead('format', '--check', 'examples')).toEqual({ status: 0, out: '', err: '' });
  });
});
