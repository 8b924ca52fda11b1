// What other programs read of `ohmstead check`: workflow commands of GitHub (GitHub Docs, "Workflow commands for GitHub Actions") and
// SARIF 2.1.0 (OASIS standard, 27 March 2020).
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { ReportedFinding } from '../src/report.js';
import { findingsGithub } from '../src/report-github.js';
import { findingsSarif } from '../src/report-sarif.js';
import { ohmstead as run } from './ohmstead.js';

const schema = JSON.parse(readFileSync(new URL('sarif-2.1.0-part.schema.json', import.meta.url), 'utf8'));
const fits = new Ajv2020({
  strict: false,
  formats: {
    uri: (text: string) => URL.canParse(text),
    'uri-reference': (text: string) => !/[\s"<>\\^`{|}]/.test(text),
  },
}).compile(schema);

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'ohmstead reports '));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const ohmstead = (args: readonly string[], { cwd = folder, workspace = '' } = {}) =>
  run(['check', ...args], { cwd, env: { GITHUB_WORKSPACE: workspace } });

const finding: ReportedFinding = {
  file: 'house, 2:1/a%b.wiring',
  range: { start: { line: 4, character: 7 }, end: { line: 4, character: 12 } },
  severity: 'warning',
  code: 'drop-high',
  message: '12 % is lost,\r\nwhich is: much.',
  related: [
    {
      file: 'other.wiring',
      range: { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } },
      message: 'the run is here',
    },
  ],
  accepted: false,
};

const where = { workspace: '/work', folder: '/work' };

describe('as notes on a pull request', () => {
  const commandOf = (one: ReportedFinding, at = where) => findingsGithub([one], 1, at).split('\n')[0];

  test('everything that would end a command or a property is escaped', () => {
    expect(commandOf(finding)).toBe(
      '::warning file=house%2C 2%3A1/a%25b.wiring,line=5,endLine=5,col=8,endColumn=12,title=drop-high' +
        '::12 %25 is lost,%0D%0Awhich is: much.%0Aother.wiring:1:1: the run is here',
    );
  });

  test('columns are left out where a finding spans lines, as GitHub asks', () => {
    const range = { start: { line: 4, character: 7 }, end: { line: 6, character: 1 } };
    expect(commandOf({ ...finding, range })).toContain(',line=5,endLine=7,title=');
  });

  test('paths are told from the workspace, whatever folder the command was run in', () => {
    const at = { workspace: '/work', folder: '/work/houses' };
    expect(commandOf({ ...finding, file: 'a.wiring' }, at)).toContain('file=houses/a.wiring,');
    expect(commandOf({ ...finding, file: '/elsewhere/a.wiring' }, at)).toContain('file=/elsewhere/a.wiring,');
  });

  test('the worst stand first, accepted ones last and as notices', () => {
    const findings = [
      { ...finding, severity: 'error' as const, accepted: true },
      { ...finding, severity: 'hint' as const },
      { ...finding, severity: 'error' as const },
    ];
    const lines = findingsGithub(findings, 1, where).split('\n');
    expect(lines.map((line) => line.split(' ')[0])).toEqual(['::error', '::notice', '::notice', '1', '']);
    expect(lines[2]).toContain('title=accepted%3A drop-high::');
    expect(lines[3]).toBe('1 record: 1 error, 1 hint, 1 accepted');
  });

  test('the command prints them, with the same exit status as in words', async () => {
    mkdirSync(join(folder, 'houses'), { recursive: true });
    writeFileSync(join(folder, 'houses', 'door.wiring'), 'wiring "Door"\n\nsupply bell-tx : bell-trnsformer\n');
    const run = await ohmstead(['--format', 'github', '.'], { cwd: join(folder, 'houses'), workspace: folder });
    expect(run.status).toBe(1);
    expect(run.out).toMatch(
      /^::error file=houses\/door\.wiring,line=3,endLine=3,col=18,endColumn=32,title=unknown-type::.*`bell-trnsformer`/,
    );
  });
});

describe('as SARIF', () => {
  const example = new URL('../../../examples/doorbell-done-right.wiring', import.meta.url).pathname;

  interface Log {
    readonly runs: readonly [
      {
        readonly tool: { readonly driver: { readonly rules: readonly { readonly id: string }[] } };
        readonly invocations: readonly [{ readonly executionSuccessful: boolean }];
        readonly results: readonly {
          readonly ruleId: string;
          readonly ruleIndex: number;
          readonly level: string;
          readonly locations: readonly { readonly physicalLocation: { readonly [name: string]: unknown } }[];
          readonly relatedLocations?: readonly { readonly id: number }[];
          readonly suppressions: readonly { readonly justification: string }[];
        }[];
      },
    ];
  }

  function logged(text: string): Log['runs'][0] {
    const log = JSON.parse(text) as Log;
    expect(fits(log), JSON.stringify(fits.errors)).toBe(true);
    return log.runs[0];
  }

  test('lines and columns count from 1, the end column is the one after, and paths are percent-encoded from the root', () => {
    const run = logged(
      findingsSarif([{ ...finding, file: 'house 2/a%b#é.wiring' }], { version: '1.2.3', complete: true }),
    );
    expect(run.results[0]!.locations[0]!.physicalLocation).toEqual({
      artifactLocation: { uri: 'house%202/a%25b%23%C3%A9.wiring', uriBaseId: '%SRCROOT%' },
      region: { startLine: 5, startColumn: 8, endLine: 5, endColumn: 13 },
    });
    expect(run.results[0]!.relatedLocations!.map(({ id }) => id)).toEqual([1]);
  });

  test('info and hint are notes, and no finding leaves the log whole', () => {
    const levels = (['error', 'warning', 'info', 'hint'] as const).map(
      (severity) =>
        logged(findingsSarif([{ ...finding, severity }], { version: '1.2.3', complete: true })).results[0]!.level,
    );
    expect(levels).toEqual(['error', 'warning', 'note', 'note']);
    expect(logged(findingsSarif([], { version: '1.2.3', complete: true })).results).toEqual([]);
  });

  test('every result points to its rule, which brings the page of the check as its help', async () => {
    const run = logged((await ohmstead(['--format', 'sarif', join(example, '..')])).out);
    expect(run.results.length).toBeGreaterThan(20);
    for (const { ruleId, ruleIndex } of run.results) {
      const rule = run.tool.driver.rules[ruleIndex]!;
      expect(rule.id).toBe(ruleId);
      expect(rule).toHaveProperty('help.markdown', expect.stringContaining('## Why it matters'));
    }
  });

  test('an accepted finding is suppressed with the reason that the record gives', async () => {
    const run = logged((await ohmstead(['--format', 'sarif', example])).out);
    const reason = /accept chime-silenced[^"]*"([^"]+)"/.exec(readFileSync(example, 'utf8'))![1];
    const silenced = run.results.find(({ ruleId }) => ruleId === 'chime-silenced')!;
    expect(silenced.suppressions).toEqual([{ kind: 'inSource', status: 'accepted', justification: reason }]);
  });

  test('what could not be read is told by the exit status and in the log', async () => {
    const run = await ohmstead(['--format', 'sarif', example, 'not-there.wiring']);
    expect(run.status).toBe(2);
    expect(logged(run.out).invocations[0].executionSuccessful).toBe(false);
  });
});
