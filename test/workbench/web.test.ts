// The packaged extension in an editor that is a page and nothing else: no server, hence no process to run in.
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, beforeEach, expect, onTestFailed, test } from 'vitest';
import { Workbench } from './harness.js';
import { WebHost } from './web-host.js';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const vsix = process.env['OHMSTEAD_VSIX'] ?? join(root, 'packages', 'extension', 'dist', 'ohmstead.vsix');
const screenshots = join(here, 'screenshots');

const bell = 'as-found-bell.wiring';
const places = 'place basement\nplace hall\nplace porch { outdoor }\nplace yard-door "Yard door"\n';

const neighbour = 'neighbour.wiring';

let workbench: Workbench<WebHost>;
let sockets = 0;

beforeAll(async () => {
  if (!existsSync(vsix)) throw new Error(`No ${vsix}: npm run package makes it`);
  const text = readFileSync(join(root, 'examples', bell), 'utf8');
  expect(text).toContain(places);
  const imports = 'import "places.wiring"\n';
  const house = {
    [bell]: text.replace(places, imports),
    [neighbour]: `wiring "Next door"\n\n${imports}\ndevice attic-button : push-button in hall\n`,
    'places.wiring': places,
  };
  workbench = await Workbench.over(await WebHost.start(vsix, house));
  workbench.page.on('websocket', () => sockets++);
  await openInExplorer(bell);
});

afterAll(() => workbench?.close());

beforeEach(({ task }) => {
  onTestFailed(async () => {
    console.log(workbench.output().replaceAll(/^200 GET .*\n/gm, ''));
    await workbench.screenshot(join(screenshots, `failed-web-${task.name.replace(/\W+/g, '-')}.png`));
  });
});

/** Quick Open has nothing to search such a workspace with: the tree of files is what is left. */
async function openInExplorer(name: string): Promise<void> {
  const { page } = workbench;
  await page.keyboard.press('Control+Shift+E');
  const row = page.locator(`.explorer-folders-view .monaco-list-row[aria-label^="${name}"]`);
  await row.waitFor();
  await page.locator('.explorer-folders-view .monaco-list').focus();
  await page.keyboard.press('Home');
  while (!((await row.getAttribute('class')) ?? '').includes('focused')) await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await workbench.editor.attach(name);
}

test('a hover shows figures, and what the record imports is found', async () => {
  const hover = await workbench.editor.hoverOver({ text: 'bell-tx', line: 'supply bell-tx' }, /is held\s+\d/);
  expect(hover).toMatch(/while porch-button is held\s+\d+\.\d V/);
  await workbench.editor.noHover();
  expect(await workbench.problems(bell, 0)).toEqual([]);
  const definition = await workbench.editor.goToDefinition({ text: 'porch', line: 'device porch-button' });
  expect(definition).toEqual({ file: 'places.wiring', line: 'place porch { outdoor }' });
  await openInExplorer(bell);
});

test('findings come, and go when their cause is mended in the imported file', async () => {
  const { editor, page } = workbench;
  await editor.replace({ text: 'hall-chime.front', line: 'white' }, 'hall-chime.frint');
  const [problem] = await workbench.problems(bell, 1);
  expect(problem?.text).toContain('unknown-terminal');
  await editor.undo();
  await workbench.problems(bell, 0);
  await openInExplorer('places.wiring');
  await editor.replace({ text: 'basement', line: 'place basement' }, 'cellar');
  await expect.poll(async () => (await workbench.problems(bell)).length).toBeGreaterThan(0);
  await editor.undo();
  await workbench.problems(bell, 0);
  await page.screenshot({ path: join(screenshots, 'web-findings.png') });
  await openInExplorer(bell);
});

test('a symbol is found in a record that was never opened', async () => {
  const { page } = workbench;
  await page.keyboard.press('Control+T');
  await page.locator('.quick-input-widget input.input').fill('#attic');
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'attic-button' }).waitFor();
  await page.keyboard.press('Escape');
});

test('the load budget opens beside the record', async () => {
  await workbench.runCommand('Ohmstead: Show Load Budget');
  const supply = workbench.panel().getByRole('region', { name: 'Supply bell-tx' });
  await expect.poll(() => supply.locator('.headline').textContent()).toMatch(/of 10 VA/);
  await workbench.panel().locator('svg.drawing g.part[data-part="hall-chime"]').waitFor();
  await workbench.screenshot(join(screenshots, 'web-budget.png'));
});

test('all of it ran in workers of the page', async () => {
  const asked = workbench.host.output();
  expect(asked).toContain('200 GET /ohmstead/dist/client.js');
  expect(asked).toContain('200 GET /ohmstead/dist/server.js');
  expect(asked).not.toMatch(/^\d+ (?!GET)/m);
  expect(sockets).toBe(0);
  await workbench.runCommand('Developer: Show Running Extensions');
  const running = workbench.page.locator('.runtime-extensions-editor');
  await running.getByText('ohmstead.ohmstead').or(running.getByText('Ohmstead')).first().waitFor();
  await workbench.screenshot(join(screenshots, 'web-running-extensions.png'));
});
