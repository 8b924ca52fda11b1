// Files that come and go outside the editor, folders of them too, and one that is renamed in it.
import { cpSync, mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, beforeEach, expect, onTestFailed, test } from 'vitest';
import { Workbench } from './harness.js';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const vsix = process.env['OHMSTEAD_VSIX'] ?? join(root, 'packages', 'extension', 'dist', 'ohmstead.vsix');
const screenshots = join(here, 'screenshots');
const house = 'house.wiring';

let workbench: Workbench;
let shared: string;
const aside = mkdtempSync(join(tmpdir(), 'ohmstead-aside-'));

beforeAll(async () => {
  const folder = join(aside, 'workspace');
  mkdirSync(join(folder, 'shared'), { recursive: true });
  writeFileSync(join(folder, 'shared', 'places.wiring'), 'place cellar\nplace hall\n');
  writeFileSync(join(folder, house), 'import "shared/places.wiring"\nsplice joint in cellar\nplace attic\n');
  workbench = await Workbench.open(vsix, folder);
  shared = join(workbench.host.workspace, 'shared');
  await workbench.openFile(house);
  await workbench.editor.hoverOver({ text: 'cellar', line: 'splice' }, /joint/);
  await workbench.editor.noHover();
});

afterAll(async () => {
  await workbench?.close();
  rmSync(aside, { recursive: true, force: true });
});

beforeEach(({ task }) => {
  onTestFailed(() => workbench.screenshot(join(screenshots, `failed-${task.name.replace(/\W+/g, '-')}.png`)));
});

test('a folder that is moved away and back takes its findings along', async () => {
  expect(await workbench.problems(house, 0)).toEqual([]);
  renameSync(shared, join(aside, 'shared'));
  const [missing] = await workbench.problems(house, 1);
  expect(missing?.text).toContain('import-missing');
  renameSync(join(aside, 'shared'), shared);
  await workbench.problems(house, 0);
});

test('a folder that is deleted, and written anew by a check-out', async () => {
  cpSync(shared, join(aside, 'kept'), { recursive: true });
  rmSync(shared, { recursive: true });
  await workbench.problems(house, 1);
  cpSync(join(aside, 'kept'), shared, { recursive: true });
  await workbench.problems(house, 0);
});

test('a file that gets another name in the explorer is imported by it', async () => {
  const { page } = workbench;
  await workbench.showOnlyEditors();
  await page.keyboard.press('Control+Shift+E');
  const row = (name: string) => page.locator(`.explorer-folders-view .monaco-list-row[aria-label^="${name}"]`);
  await row('shared').waitFor();
  await page.locator('.explorer-folders-view .monaco-list').focus();
  await page.keyboard.press('Home');
  const focused = async (name: string): Promise<boolean> =>
    ((await row(name).getAttribute('class')) ?? '').includes('focused');
  while (!(await focused('shared'))) await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowRight');
  await row('places.wiring').waitFor();
  while (!(await focused('places.wiring'))) await page.keyboard.press('ArrowDown');
  await page.keyboard.press('F2');
  await page.locator('.explorer-item-edited input:focus').waitFor();
  await page.keyboard.press('Control+A');
  await page.keyboard.insertText('rooms.wiring');
  await page.keyboard.press('Enter');
  // The editor asks before it lets anybody write into other files.
  await page
    .locator('.monaco-dialog-box')
    .getByText("Extension 'Ohmstead' wants to make refactoring changes")
    .waitFor();
  await page.keyboard.press('Enter');
  await row('rooms.wiring').waitFor();
  await expect
    .poll(() => page.locator('.editor-instance .view-line').first().textContent(), { timeout: 15_000 })
    .toMatch(/^import\s"shared\/rooms\.wiring"/);
  await workbench.problems(house, 0);
});
