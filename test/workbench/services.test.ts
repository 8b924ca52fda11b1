// Each service once, as somebody meets it who has no mouse: what is asked for by keys, and what is then seen.
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, beforeAll, beforeEach, expect, onTestFailed, test } from 'vitest';
import { eventually } from './eventually.js';
import { Workbench } from './harness.js';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const vsix = process.env['OHMSTEAD_VSIX'] ?? join(root, 'packages', 'extension', 'dist', 'ohmstead.vsix');
const screenshots = join(here, 'screenshots');
const bell = 'as-found-bell.wiring';

let workbench: Workbench;

beforeAll(async () => {
  if (!existsSync(vsix)) throw new Error(`No ${vsix}: npm run package makes it`);
  workbench = await Workbench.open(vsix, join(root, 'examples'));
  await workbench.openFile(bell);
  // Its figures show that the record has been read and solved.
  await workbench.editor.hoverOver({ text: 'bell-tx', line: 'supply bell-tx' }, /\d V/);
  await workbench.editor.noHover();
  await workbench.showOnlyEditors();
});

afterAll(() => workbench?.close());

beforeEach(async ({ task }) => {
  const name = task.name.replace(/\W+/g, '-');
  onTestFailed(() => workbench.screenshot(join(screenshots, `failed-${name}.png`)));
  await workbench.openFile(bell);
});

afterEach(async ({ task }) => {
  if (task.result?.state === 'pass') {
    await workbench.screenshot(join(screenshots, `service-${task.name.replace(/\W+/g, '-')}.png`));
  }
  await press('Escape', 'Escape');
  await workbench.runCommand('File: Revert File');
});

async function press(...keys: string[]): Promise<void> {
  for (const key of keys) await workbench.page.keyboard.press(key);
}

/** Puts the caret behind the first place where these words stand. */
async function goTo(words: string): Promise<void> {
  await workbench.editor.focus();
  await press('Control+Home', 'Control+F');
  const widget = workbench.page.locator('.find-widget.visible');
  await widget.waitFor();
  await press('Control+A');
  await workbench.page.keyboard.insertText(words);
  await eventually(
    `"${words}" found`,
    async () => {
      const count = ((await widget.locator('.matchesCount').textContent()) ?? '').trim();
      // It came into the file after it was asked for: found, but not gone to.
      if (count.startsWith('?')) await press('Enter');
      return count;
    },
    (count) => /^\d+ of \d+/.test(count),
  );
  await press('Escape');
  await workbench.page.locator('.find-widget.visible').waitFor({ state: 'detached' });
  await press('ArrowRight');
}

const caretLine = (expected: RegExp): Promise<string> =>
  eventually(
    `the caret on a line like ${expected}`,
    () => workbench.editor.lineAtCaret(),
    (line) => expected.test(line),
  );

const textsOf = (selector: string, expected: RegExp): Promise<string[]> =>
  eventually(
    `${expected} in ${selector}`,
    () => workbench.page.locator(selector).allInnerTexts(),
    (texts) => texts.some((text) => expected.test(text.replaceAll('\u00a0', ' '))),
  );

test('the outline leads to a part', async () => {
  await press('Control+Shift+O');
  await textsOf('.quick-input-list .monaco-list-row', /hall-chime/);
  await workbench.page.keyboard.type('hall-chime');
  await textsOf('.quick-input-list .monaco-list-row.focused', /hall-chime/);
  await press('Enter');
  await caretLine(/^device hall-chime/);
});

test('a hover comes by keys, with figures', async () => {
  await goTo('supply bell-t');
  await press('Control+K', 'Control+I');
  await textsOf('.monaco-hover:visible .monaco-hover-content', /\d V/);
});

test('a part gets another name everywhere', async () => {
  await goTo('supply bell-t');
  await press('F2');
  await workbench.page.locator('.rename-box.visible, .rename-box:visible').first().waitFor();
  await press('Control+A');
  await workbench.page.keyboard.insertText('old-tx');
  await press('Enter');
  await caretLine(/^supply old-tx/);
  expect(await workbench.problems(bell, 0)).toEqual([]);
  await workbench.showOnlyEditors();
  await goTo('old-tx.a');
});

test('all uses of a part are shown', async () => {
  await goTo('device hall-chim');
  await press('Shift+F12');
  await textsOf('.zone-widget .ref-tree .monaco-list-row', /hall-chime/);
});

test('the definition of a type is reached and left', async () => {
  await goTo('two-note-chim');
  await press('F12');
  await eventually(
    'another file',
    () => workbench.editor.activeFile(),
    (name) => name !== '' && name !== bell,
  );
  await workbench.runCommand('View: Close Editor');
  await eventually(
    'the record again',
    () => workbench.editor.activeFile(),
    (name) => name === bell,
  );
});

test('a record that is out of shape is laid out', async () => {
  await goTo('splice porch-retur');
  await press('Home');
  await workbench.page.keyboard.insertText('splice   spare-joint     in hall');
  await press('Enter', 'ArrowUp');
  await press('Control+Shift+I');
  await caretLine(/^splice spare-joint in hall$/);
});

test('a wrong terminal is mended by the fix that is offered', async () => {
  await goTo('hall-chime.front');
  await workbench.page.keyboard.insertText('s');
  await press('Escape');
  await workbench.editor.squiggleOver('fronts');
  await press('F8');
  await press('Escape');
  await press('Control+.');
  await textsOf('.action-widget .monaco-list-row.action', /front/);
  await press('Enter');
  await caretLine(/hall-chime\.front(?!s)/);
});

test('a statement is folded and opened', async () => {
  await goTo('supply bell-t');
  await press('Control+Shift+[');
  await workbench.page.locator('.editor-instance .inline-folded').first().waitFor();
  await press('Control+Shift+]');
  await workbench.page.locator('.editor-instance .inline-folded').first().waitFor({ state: 'detached' });
});
