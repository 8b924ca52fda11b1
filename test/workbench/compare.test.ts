import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, beforeEach, describe, expect, onTestFailed, test } from 'vitest';
import { type Theme, Workbench } from './harness.js';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const vsix = process.env['OHMSTEAD_VSIX'] ?? join(root, 'packages', 'extension', 'dist', 'ohmstead.vsix');
const screenshots = join(here, 'screenshots');

const asFound = 'mill-row-as-found.wiring';
const plan = 'mill-row-doorbell.wiring';
const compareWith = 'Ohmstead: Compare With…';
const writeOut = 'Ohmstead: Write the Plan Out as a Full Record';

let temporary: string;
let workbench: Workbench;

/** A repository of records, one of which was changed since its last commit. */
beforeAll(async () => {
  if (!existsSync(vsix)) throw new Error(`No ${vsix}: npm run package makes it`);
  temporary = mkdtempSync(join(process.env['OHMSTEAD_WORKBENCH_TMP'] ?? tmpdir(), 'r-'));
  const folder = join(temporary, 'records');
  cpSync(join(root, 'examples', 'plans'), folder, { recursive: true });
  git(folder, 'init', '--quiet', '--initial-branch=main');
  git(folder, 'add', '--all');
  git(folder, '-c', 'user.name=Test', '-c', 'user.email=test@example.invalid', 'commit', '--quiet', '-m', 'As found');
  const file = join(folder, asFound);
  const text = readFileSync(file, 'utf8');
  writeFileSync(file, text.replace('16 V AC, 10 VA', '16 V AC, 15 VA'));
  expect(readFileSync(file, 'utf8')).not.toBe(text);
  workbench = await Workbench.open(vsix, folder, { 'git.enabled': true, 'git.openRepositoryInParentFolders': 'never' });
});

afterAll(async () => {
  await workbench?.close();
  rmSync(temporary, { recursive: true, force: true });
});

beforeEach(({ task }) => {
  onTestFailed(async () => {
    await workbench.screenshot(join(screenshots, `failed-${task.name.replace(/\W+/g, '-')}.png`));
  });
});

function git(folder: string, ...args: string[]): void {
  const { status, stderr } = spawnSync('git', args, { cwd: folder, encoding: 'utf8' });
  if (status !== 0) throw new Error(`git ${args.join(' ')}: ${stderr}`);
}

const page = () => workbench.panel();
const row = (words: RegExp) => page().getByRole('row', { name: words });
const cells = (words: RegExp) => row(words).first().getByRole('cell').allTextContents();

describe('a plan beside the record that it changes', () => {
  beforeAll(async () => {
    await workbench.openFile(plan);
    await workbench.runCommandAndChoose(compareWith, 'The record that it changes');
    await page().getByRole('heading', { name: 'What changed' }).waitFor();
    await workbench.showOnlyEditors();
  });

  test('has figures in two columns, the conductors that are moved, and the work there and back', async () => {
    expect(await page().getByRole('columnheader', { name: 'Before' }).count()).toBeGreaterThan(0);
    const [before, after] = await cells(/bell-tx ?, winding a to b, share at worst/);
    expect(Number.parseFloat(before!)).toBeGreaterThan(Number.parseFloat(after!));
    await page().getByRole('heading', { name: 'Work order', exact: true }).waitFor();
    expect(await page().locator('li').allTextContents()).toContainEqual(
      expect.stringMatching(/^moved red of cellar-to-front/),
    );
    const back = page().locator('details#back');
    expect(await back.getAttribute('open')).toBeNull();
    await back.locator('summary').focus();
    await workbench.page.keyboard.press('Enter');
    await back.getByText('Mount front-button').waitFor();
  });

  test('follows as the plan is written, and keeps open what was opened', async () => {
    await workbench.editor.replace({ text: '30 VA', line: 'output 16 V AC' }, '40 VA');
    await page().getByText('16 V AC, 40 VA', { exact: false }).first().waitFor();
    expect(await page().locator('details#back').getAttribute('open')).not.toBeNull();
    await workbench.openFile(plan);
    await workbench.runCommand('File: Revert File');
    await page().getByText('16 V AC, 30 VA', { exact: false }).first().waitFor();
  });

  test('leads from a name to its line, in whichever of the two it stands', async () => {
    await page().getByRole('button', { name: 'chime-bypass' }).first().click();
    await expect.poll(() => workbench.editor.lineAtCaret()).toMatch(/^jumper chime-bypass/);
  });

  test('fits its column at twice the size', async () => {
    await workbench.setZoom(2);
    try {
      const html = page().locator('html');
      await expect.poll(() => html.evaluate((one) => one.scrollWidth - one.clientWidth)).toBeLessThanOrEqual(0);
      await workbench.screenshot(join(screenshots, 'compare-zoom-200.png'));
    } finally {
      await workbench.setZoom(1);
    }
  });

  test.each<Theme>(['light', 'dark', 'hc-dark', 'hc-light'])('follows the theme: %s', async (theme) => {
    await workbench.setTheme(theme);
    const kind = { light: 'light', dark: 'dark', 'hc-dark': 'high-contrast', 'hc-light': 'high-contrast-light' };
    await page().locator(`body.vscode-${kind[theme]}`).waitFor();
    await workbench.screenshot(join(screenshots, `compare-${theme}.png`));
  });

  test('ends with its panel', async () => {
    await workbench.setTheme('light');
    await workbench.runCommand('View: Close Editors in Other Groups');
    await expect.poll(() => workbench.page.locator('iframe.webview.ready >> visible=true').count()).toBe(0);
  });
});

test('a record is set against its last commit, with what it was then', async () => {
  await workbench.openFile(asFound);
  await workbench.runCommandAndChoose(compareWith, 'Its last commit');
  await page()
    .getByText(/^at the last commit \(main, [0-9a-f]{8}\)$/)
    .waitFor();
  await page().getByText('output 16 V AC, 10 VA, now 16 V AC, 15 VA', { exact: false }).waitFor();
  await workbench.runCommand('View: Close Editors in Other Groups');
});

test('a record is set against another', async () => {
  await workbench.openFile(asFound);
  await workbench.runCommandAndChoose(compareWith, plan);
  await page().getByText('front-cam, now front-button', { exact: false }).first().waitFor();
  await workbench.runCommand('View: Close Editors in Other Groups');
});

describe('a plan written out', () => {
  test('is a full record with the comments of both, in a file beside the record', async () => {
    await workbench.openFile(plan);
    await workbench.runCommandAndChoose(writeOut, 'A new file beside the record');
    const file = 'mill-row-doorbell-written-out.wiring';
    await expect.poll(() => workbench.editor.activeFile()).toBe(file);
    const text = workbench.host.read(file);
    expect(text).toContain('wiring "Mill Row 3, video doorbell at the front"');
    expect(text).toMatch(/supply bell-tx[\s\S]*16 V AC, 30 VA/);
    expect(text).toContain('// The same two wires, on the same two screws.');
    expect(text).not.toMatch(/^(changes|replace)\b/m);
  });

  test('is refused in one sentence where the record is no plan', async () => {
    await workbench.openFile(asFound);
    await workbench.runCommand(writeOut);
    await workbench.page.getByText('This record names no other that it changes', { exact: false }).first().waitFor();
  });
});
