import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, onTestFailed, test } from 'vitest';
import { type Theme, Workbench } from './harness.js';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const vsix = process.env['OHMSTEAD_VSIX'] ?? join(root, 'packages', 'extension', 'dist', 'ohmstead.vsix');
const screenshots = join(here, 'screenshots');

const bell = 'as-found-bell.wiring';
const doorbell = 'doorbell-done-right.wiring';

let workbench: Workbench;

beforeAll(async () => {
  if (!existsSync(vsix)) throw new Error(`No ${vsix}: npm run package makes it`);
  workbench = await Workbench.open(vsix, join(root, 'examples'));
});

afterAll(() => workbench?.close());

beforeEach(({ task }) => {
  onTestFailed(async () => {
    await workbench.screenshot(join(screenshots, `failed-${task.name.replace(/\W+/g, '-')}.png`));
  });
});

describe('a record in the editor', () => {
  beforeEach(async () => {
    await workbench.openFile(bell);
    // Its figures show that the record has been read and solved, so that "no problem" means something.
    await workbench.editor.hoverOver({ text: 'bell-tx', line: 'supply bell-tx' }, /\d V/);
    await workbench.editor.noHover();
  });

  afterEach(() => workbench.runCommand('File: Revert File'));

  test('has no problem as it was found', async () => {
    expect(await workbench.problems(bell, 0)).toEqual([]);
    expect(await workbench.editor.squiggles()).toEqual([]);
  });

  test('gets one squiggle and one problem for one wrong terminal, and a fix that mends it', async () => {
    const { editor } = workbench;
    await editor.replace({ text: 'hall-chime.front', line: 'white' }, 'hall-chime.frint');
    expect(await editor.squiggleOver({ text: 'frint', line: 'hall-chime' })).toBe('error');
    const [problem] = await workbench.problems(bell, 1);
    expect(problem).toMatchObject({
      severity: 'error',
      message:
        '`hall-chime` has no terminal `frint`: its terminals are `trans`, `front` and `rear`. Did you mean `front`?',
    });
    expect(problem?.text).toContain('unknown-terminal');
    expect(await editor.squiggles()).toHaveLength(1);

    await editor.quickFix('frint', /front/);
    await workbench.problems(bell, 0);
    await expect.poll(() => editor.squiggles()).toEqual([]);
    expect(await editor.lineAtCaret()).toContain('hall-chime.front');
  });

  test('says on a supply what it feeds and what is left', async () => {
    const hover = await workbench.editor.hoverOver({ text: 'bell-tx', line: 'supply bell-tx' }, /\d V/);
    expect(hover).toMatch(/16 V AC, 10 VA/);
    expect(hover).toMatch(/\d+(\.\d+)? VA/);
    expect(hover).toMatch(/porch-button/);
  });

  test('offers the terminal that is still free after "to"', async () => {
    const { editor } = workbench;
    await editor.replace({ text: 'to  porch-button.b', line: 'white' }, '');
    const labels = await editor.completionsAfter('to ', /porch-button\.b/);
    expect(labels).toContain('porch-button.b');
    expect(labels).not.toContain('porch-button.a');
    await editor.takeCompletion('porch-button.b');
    await workbench.problems(bell, 0);
  });

  test('leads from a type to where the shipped library states it', async () => {
    const definition = await workbench.editor.goToDefinition({ text: 'two-note-chime', line: 'device hall-chime' });
    expect(definition.file).toMatch(/\.wiring$/);
    expect(definition.line).toMatch(/^device type two-note-chime\b/);
    await workbench.runCommand('View: Close Editor');
  });
});

describe('the load budget beside the editor', () => {
  const supply = () => workbench.panel().getByRole('region', { name: 'Supply bell-tx' });
  const chosen = () => supply().locator('.headline').textContent();

  beforeAll(async () => {
    await workbench.openFile(doorbell);
    await workbench.runCommand('Ohmstead: Show Load Budget');
    await supply().waitFor();
    await workbench.runCommand('View: Hide Panel');
  });

  afterEach(async () => {
    await workbench.openFile(doorbell);
    await workbench.runCommand('File: Revert File');
  });

  test('changes its figures when the record is edited', async () => {
    await expect.poll(() => supply().textContent()).toContain('30 VA');
    const before = await chosen();
    const volts = await supply().getByRole('cell').first().textContent();
    await workbench.editor.replace({ text: '30 VA', line: 'output 16 V AC' }, '40 VA');
    await expect.poll(() => supply().textContent()).toContain('40 VA');
    await expect.poll(chosen).not.toBe(before);
    expect(await supply().getByRole('cell').first().textContent()).not.toBe(volts);
  });

  test('keeps the last good figures, marked, while the text can not be read', async () => {
    const before = await chosen();
    await workbench.editor.replace({ text: '30 VA', line: 'output 16 V AC' }, '30 VA VA VA');
    await workbench.panel().getByText('Not up to date').waitFor();
    expect(await chosen()).toBe(before);
    await workbench.editor.undo();
    await workbench.panel().getByText('Not up to date').waitFor({ state: 'detached' });
  });

  test('leads from a name to its line', async () => {
    await workbench.editor.caretAt({ text: 'wiring', line: 'Alder Lane' });
    await supply().getByRole('button', { name: 'bell-tx' }).first().click();
    await expect.poll(() => workbench.editor.lineAtCaret()).toMatch(/^supply bell-tx/);
  });

  test('fits its column at twice the size', async () => {
    await workbench.runCommand('View: Close Primary Side Bar');
    await workbench.setZoom(2);
    try {
      await workbench.screenshot(join(screenshots, 'zoom-200.png'));
      const overflow = () =>
        workbench
          .panel()
          .locator('html')
          .evaluate((page) => page.scrollWidth - page.clientWidth);
      await expect.poll(overflow).toBeLessThanOrEqual(0);
    } finally {
      await workbench.setZoom(1);
    }
  });

  test.each<Theme>(['light', 'dark', 'hc-dark', 'hc-light'])('follows the theme: %s', async (theme) => {
    await workbench.setTheme(theme);
    const kind = {
      light: 'vscode-light',
      dark: 'vscode-dark',
      'hc-dark': 'vscode-high-contrast',
      'hc-light': 'vscode-high-contrast-light',
    };
    await workbench.panel().locator(`body.${kind[theme]}`).waitFor();
    await workbench.screenshot(join(screenshots, `${theme}.png`));
  });
});
