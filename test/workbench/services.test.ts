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
const done = 'doorbell-done-right.wiring';
const lens = '.editor-instance .codelens-decoration';
const listed = '.quick-input-list .monaco-list-row';

let workbench: Workbench;

beforeAll(async () => {
  if (!existsSync(vsix)) throw new Error(`No ${vsix}: npm run package makes it`);
  workbench = await Workbench.open(vsix, join(root, 'examples'));
  await workbench.openFile(bell);
  await workbench.showOnlyEditors();
  // Its figures show that the record has been read and solved.
  await textsOf(lens, /VA of 10 VA/);
});

afterAll(() => workbench?.close());

beforeEach(async ({ task }) => {
  const name = task.name.replace(/\W+/g, '-');
  onTestFailed(() => workbench.screenshot(join(screenshots, `failed-${name}.png`)));
  await workbench.openFile(bell);
});

afterEach(async ({ task }) => {
  if (process.env['OHMSTEAD_SCREENSHOTS'] && task.result?.state === 'pass') {
    await workbench.screenshot(join(screenshots, `service-${task.name.replace(/\W+/g, '-')}.png`));
  }
  await press('Escape', 'Escape');
  if (await workbench.isEdited()) await workbench.runCommand('File: Revert File');
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

/** Adds words to the end of the record, where they are a statement of their own. */
async function write(words: string): Promise<void> {
  await workbench.editor.focus();
  await press('Control+End', 'Enter');
  await workbench.page.keyboard.insertText(words);
}

/** Runs a command that goes on to ask something, so that its list is not waited away. */
async function ask(title: string): Promise<void> {
  await press('F1');
  await workbench.page.locator('.quick-input-widget input.input').waitFor();
  await workbench.page.keyboard.insertText(title);
  await textsOf(`${listed}.focused`, new RegExp(title, 'i'));
  await press('Enter');
}

/** Waits for the question of this title, and takes what it offers or answers with other words. */
async function answer(title: RegExp, words?: string): Promise<void> {
  await textsOf('.quick-input-widget .quick-input-title', title);
  if (words !== undefined) {
    await press('Control+A');
    await workbench.page.keyboard.insertText(words);
  }
  await press('Enter');
}

const another = (): Promise<string> =>
  eventually(
    'another file',
    () => workbench.editor.activeFile(),
    (name) => name !== '' && name !== bell,
  );

/** What a new document that is not saved yet has in it, once it is there. */
async function textOfNew(expected: RegExp): Promise<void> {
  await workbench.editor.attach(await another());
  await textsOf('.editor-instance .view-line', expected);
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
  await workbench.page.locator('.rename-box input:focus').waitFor();
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
  await another();
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
  await workbench.page.keyboard.insertText('splice   spare-joint     in hall\n');
  await press('Escape', 'ArrowUp');
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

test('volts at the ends of conductors are shown where that is set', async () => {
  workbench.host.set({ 'ohmstead.inlayHints.volts': true });
  await textsOf('.editor-instance .view-line', /to\s+hall-chime\.\w+.*\d V/);
  await workbench.screenshot(join(screenshots, 'service-inlay-hints.png'));
  workbench.host.set({ 'ohmstead.inlayHints.volts': false });
  await eventually(
    'no volts in the lines',
    () => workbench.page.locator('.editor-instance .view-line').allInnerTexts(),
    (lines) => !lines.some((line) => /to\s+hall-chime\.\w+.*\d\sV/.test(line)),
  );
});

test('what is drawn stands above a supply, and leads to its budget', async () => {
  await textsOf(lens, /\d VA of 10 VA, worst while/);
  await goTo('supply bell-t');
  await ask('Show CodeLens Commands For Current Line');
  await textsOf(listed, /VA of 10 VA/);
  await press('Enter');
  await workbench.panel().getByRole('region', { name: 'Supply bell-tx' }).waitFor();
  await workbench.runCommand('View: Close Editors in Other Groups');
  await workbench.runCommand('View: Focus First Editor Group');
});

test('what an element takes is shown while it is written', async () => {
  await write('device type own-gong {\n    coil a to b { ');
  await press('Control+Shift+Space');
  await textsOf('.parameter-hints-widget.visible', /coil a to b \{/);
});

test('a name is found in a file that was not opened', async () => {
  await press('Control+T');
  await workbench.page.keyboard.type('porch-cam');
  await textsOf(`${listed}.focused`, /porch-cam/);
  await press('Enter');
  await workbench.editor.attach(await another());
  await caretLine(/^device porch-cam/);
});

test('a conductor is followed from a terminal', async () => {
  await goTo('hall-chime.tran');
  await ask('Calls: Show Call Hierarchy');
  await textsOf('.sidebar .monaco-list-row', /tx-to-hall/);
});

test('a type is completed, with its ratings', async () => {
  await write('device spare : ');
  await workbench.page.keyboard.type('two-note-ch');
  await press('Control+Space');
  await textsOf('.suggest-widget.visible .monaco-list-row.focused', /two-note-chime/);
  await press('Enter');
  await caretLine(/^device spare : two-note-chime/);
});

test('names have the colours of what they are', async () => {
  await goTo('device hall-chim');
  await ask('Developer: Inspect Editor Tokens and Scopes');
  await textsOf('.token-inspect-widget', /semantic token type\s+\w+/);
});

test('a selection grows from a word to its end of the conductor', async () => {
  await goTo('hall-chime.fron');
  await workbench.runCommand('Expand Selection');
  await workbench.runCommand('Expand Selection');
  await workbench.page.keyboard.insertText('joist-joint');
  await caretLine(/^ +white +porch-return +to +joist-joint$/);
});

test('the page of an accepted finding is opened from its code', async () => {
  await workbench.openFile(done);
  await goTo('accept chime-silence');
  await ask('Open Link');
  await eventually(
    'the page',
    () => workbench.editor.activeFile(),
    (name) => name.includes('chime-silenced'),
  );
  await workbench.runCommand('View: Close Editor');
});

test('a type of one’s own comes of four answers', async () => {
  await ask('Ohmstead: New Type from a Label');
  await answer(/1 of 4/);
  await answer(/2 of 4/, 'Cellar gong');
  await answer(/3 of 4/, '16 V AC, 10 VA');
  await answer(/4 of 4/, 'F, T');
  await textOfNew(/device type cellar-gong/);
  await workbench.screenshot(join(screenshots, 'service-new-type.png'));
  await workbench.runCommand('View: Revert and Close Editor');
});

test('a record comes of four answers', async () => {
  await ask('Ohmstead: New Record');
  await answer(/1 of 4/);
  await answer(/2 of 4/);
  await answer(/3 of 4/, 'cellar, stairs, gate');
  await answer(/4 of 4/, '30 ft, 21 ft 6 in');
  await textOfNew(/wiring "Door bell, cellar to gate"/);
  await workbench.screenshot(join(screenshots, 'service-new-record.png'));
  await workbench.runCommand('View: Revert and Close Editor');
});

/** The rows of the list on top, without what is said of them. */
const offered = (): Promise<string[]> =>
  workbench.page.locator(`${listed} .quick-input-list-row:first-child .label-name`).allTextContents();

test('the papers are written where it is said, each in the form that was chosen', async () => {
  const title = 'Alder Lane 12';
  const page = (text: string) =>
    text.includes('<h1>Termination schedule</h1>') && text.includes('@page { size: letter');
  const table =
    (...heads: string[]) =>
    (text: string) =>
      text.replace(/^\uFEFF/, '').split('\r\n')[0] === heads.join(',');
  const forms: Record<string, [file: string, isRight: (text: string) => boolean]> = {
    'Page to print (HTML)': ['whole.html', (text) => page(text) && text.includes(title)],
    'Page to print, without the site (HTML)': ['no-site.html', (text) => page(text) && !text.includes(title)],
    Markdown: ['papers.md', (text) => /^## Termination schedule$/m.test(text) && text.includes(title)],
    'Termination schedule (CSV)': [
      'ends.csv',
      table('Place', 'Part', 'Screw', 'What lands on it', 'Colour', 'IEC 60757', 'Its other end'),
    ],
    'Cut list (CSV)': ['cuts.csv', table('Cable', 'Run', 'From', 'To', 'Length', 'Cut to', 'Length m', 'Cut m')],
    'Materials (CSV)': ['materials.csv', table('Kind', 'Quantity', 'What', 'Detail', 'For')],
    'Test sheet (CSV)': ['test.csv', table('Section', 'When', 'Where', 'Expected', 'Read', 'Pass', 'Initials')],
    'Labels (CSV)': ['labels.csv', table('Goes on', 'Title', 'Text')],
  };
  for (const [form, [file, isRight]] of Object.entries(forms)) {
    await ask("Ohmstead: Save Installer's Papers");
    await eventually('the forms', offered, (labels) => labels.includes('Markdown'));
    // Nothing is offered that is not written here.
    expect((await offered()).sort()).toEqual(Object.keys(forms).sort());
    await eventually(
      `"${form}" in focus`,
      async () => {
        const [label] = await workbench.page.locator(`${listed}.focused .label-name`).allTextContents();
        if (label !== form) await press('ArrowDown');
        return label;
      },
      (label) => label === form,
    );
    await press('Enter');
    const path = workbench.page.locator('.quick-input-widget input.input');
    await eventually(
      'a name to save under',
      () => path.inputValue(),
      (value) => value.includes('as-found-bell-'),
    );
    await press('Control+A');
    await workbench.page.keyboard.insertText(join(workbench.host.workspace, file));
    await eventually(
      'the name',
      () => path.inputValue(),
      (value) => value.endsWith(`/${file}`),
    );
    await press('Enter');
    await textsOf('.notification-toast .notification-list-item-message', new RegExp(`The papers are in ${file}`));
    expect(isRight(workbench.host.read(file)), form).toBe(true);
    await workbench.runCommand('Notifications: Clear All Notifications');
  }
});

test('the fault finder takes a reading at two terminals, and one that is typed', async () => {
  await workbench.openFile('silent-side-door.wiring');
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

  await workbench.runCommand('View: Focus First Editor Group');
  await workbench.runCommand('View: Close Editors in Other Groups');
});
