import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, beforeEach, expect, onTestFailed, test } from 'vitest';
import { Workbench } from './harness.js';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const vsix = process.env['OHMSTEAD_VSIX'] ?? join(root, 'packages', 'extension', 'dist', 'ohmstead.vsix');
const silent = 'silent-side-door.wiring';

let workbench: Workbench;

beforeAll(async () => {
  if (!existsSync(vsix)) throw new Error(`No ${vsix}: npm run package makes it`);
  workbench = await Workbench.open(vsix, join(root, 'examples', 'faults-found'));
});

afterAll(async () => {
  await workbench?.close();
});

beforeEach(({ task }) => {
  onTestFailed(async () => {
    await workbench.screenshot(join(here, 'screenshots', `failed-${task.name.replace(/\W+/g, '-')}.png`));
  });
});

test('the fault finder says what fits, takes a reading at two terminals and writes it into the record', async () => {
  await workbench.openFile(silent);
  await workbench.runCommand('Ohmstead: Find the Fault');
  const page = workbench.panel();
  await page.getByText(/Likeliest, at 9\d %: the contact of/).waitFor();
  await page.getByRole('heading', { name: 'Excluded' }).waitFor();

  const send = page.getByRole('button', { name: 'Write into the record' });
  expect(await send.isDisabled()).toBe(true);
  await page.getByRole('radio', { name: 'While front-push is held' }).check();
  await page.getByRole('button', { name: 'hall-chime.trans', exact: true }).click();
  await page.getByRole('button', { name: 'hall-chime.front', exact: true }).press('Enter');
  await page.getByLabel('Figure').fill('15.8');
  expect(await page.getByLabel('As a line of the record').inputValue()).toBe(
    'pressed front-push hall-chime.trans, hall-chime.front 15.8 V',
  );
  await send.click();
  await page.getByText('Written into the record:').waitFor();
  await page.getByRole('row', { name: /hall-chime.front.*15\.8 V/ }).waitFor();

  await page.getByLabel('As a line of the record').fill('pressed side-psh hall-chime silent');
  await send.press('Enter');
  await page.getByRole('alert').getByText('Did you mean').waitFor();
}, 300_000);
