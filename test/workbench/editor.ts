import type { Locator, Page } from 'playwright-core';
import { eventually } from './eventually.js';
import { type Box, boxOf, lineAtCaret, type Severity, type Spot, type Squiggle, squigglesOf } from './geometry.js';

/** A text in the open editor: a word as it stands there, or a word on the line that has certain other words. */
export type Place = string | Spot;

const spotOf = (place: Place): Spot => (typeof place === 'string' ? { text: place } : place);
const named = (place: Place): string => {
  const { text, line } = spotOf(place);
  return line === undefined ? `"${text}"` : `"${text}" on the line "${line}"`;
};

/** What a person does and sees in the text editor that was opened last. */
export class Editor {
  private element: Locator;

  constructor(private readonly page: Page) {
    this.element = page.locator('.monaco-editor[data-uri]');
  }

  /** Makes the editor of this file the one that all other words are about. */
  async attach(name: string): Promise<void> {
    // A document that was never saved has no path: `untitled:Untitled-1`.
    const before = name.startsWith('Untitled-') ? ':' : '/';
    this.element = this.page.locator(`.editor-instance .monaco-editor[data-uri$="${before}${name}"]`).last();
    await this.element.locator('.view-line').first().waitFor();
  }

  async focus(): Promise<void> {
    await this.element.locator('.native-edit-context, textarea.inputarea').first().focus();
    await this.page.locator('.monaco-editor.focused').first().waitFor();
  }

  /** The name of the file in the active tab. */
  async activeFile(): Promise<string> {
    const tab = this.page.locator('.editor-group-container.active .tab.active');
    return (await tab.getAttribute('data-resource-name')) ?? '';
  }

  /** The text of the line that the caret is on. */
  lineAtCaret(): Promise<string> {
    return this.element.evaluate(lineAtCaret);
  }

  /** Brings a text into sight and says where it stands in the window. */
  async reveal(place: Place): Promise<Box> {
    const spot = spotOf(place);
    const seen = await this.boxInSight(spot);
    if (seen) {
      return seen;
    }
    await this.find(spot.line ?? spot.text);
    const box = await eventually(
      named(place),
      () => this.boxInSight(spot),
      (value) => value !== null,
    );
    return box as Box;
  }

  private async boxInSight(spot: Spot): Promise<Box | null> {
    const box = await this.element.evaluate(boxOf, spot);
    const frame = await this.element.boundingBox();
    const inside = box && frame && box.y >= frame.y && box.y + box.height <= frame.y + frame.height && box.x >= frame.x;
    return inside && box.x + box.width <= frame.x + frame.width ? box : null;
  }

  private async find(text: string): Promise<void> {
    await this.focus();
    await this.page.keyboard.press('Control+Home');
    await this.page.keyboard.press('Control+F');
    const widget = this.element.locator('.find-widget.visible');
    await widget.locator('.find-part textarea.input').first().fill(text);
    await eventually(
      `"${text}" in the editor`,
      async () => {
        const count = ((await widget.locator('.matchesCount').textContent()) ?? '').trim();
        if (count.startsWith('?')) {
          // It came into the file after it was asked for: found, but not gone to.
          await this.page.keyboard.press('Enter');
        }
        return count;
      },
      (count) => /^\d+ of \d+$/.test(count),
    );
    await this.page.keyboard.press('Escape');
    await widget.waitFor({ state: 'detached' });
  }

  /** Puts the caret before the first letter of a text. */
  async caretAt(place: Place): Promise<void> {
    const box = await this.reveal(place);
    await this.page.mouse.click(box.x + 1, box.y + box.height / 2);
    await this.focus();
  }

  async caretAfter(place: Place): Promise<void> {
    await this.select(place);
    await this.page.keyboard.press('ArrowRight');
  }

  async select(place: Place): Promise<void> {
    await this.caretAt(place);
    for (const _ of spotOf(place).text) {
      await this.page.keyboard.press('Shift+ArrowRight');
    }
  }

  /** Puts other text in a text's place, in one step, as a paste does. */
  async replace(place: Place, by: string): Promise<void> {
    await this.select(place);
    if (by === '') await this.page.keyboard.press('Delete');
    else await this.page.keyboard.insertText(by);
    await this.page.keyboard.press('Escape');
  }

  /** Undoes edits, one step each time; what was typed or pasted is as many steps as it has words. */
  async undo(steps = 1): Promise<void> {
    await this.focus();
    for (let step = 0; step < steps; step++) {
      await this.page.keyboard.press('Control+Z');
    }
  }

  /** Every squiggle that is drawn at present, top to bottom. */
  squiggles(): Promise<Squiggle[]> {
    return this.element.evaluate(squigglesOf);
  }

  /** Waits for a squiggle that starts and ends with this text, and returns its severity. */
  async squiggleOver(place: Place): Promise<Severity> {
    const { text, line } = spotOf(place);
    const meant = (mark: Squiggle) => mark.text === text && (line === undefined || mark.line.includes(line));
    await this.reveal(place);
    const marks = await eventually(
      `a squiggle over ${named(place)}`,
      () => this.squiggles(),
      (all) => all.some(meant),
    );
    return (marks.find(meant) as Squiggle).severity;
  }

  /** Rests the mouse on a text and returns the hover that comes up, once it says what is expected. */
  async hoverOver(place: Place, expected = /\S/): Promise<string> {
    const hover = this.page.locator('.monaco-hover:visible .monaco-hover-content');
    const end = Date.now() + 45_000;
    let seen = '';
    while (Date.now() < end) {
      const box = await this.reveal(place);
      // A hover is asked for once, when the mouse comes to rest: without a move there is no second question.
      await this.page.mouse.move(box.x + box.width / 2, box.y + box.height / 2, { steps: 3 });
      const text = () => hover.allInnerTexts().then((parts) => parts.join('\n').replaceAll('\u00a0', ' '));
      try {
        return await eventually(
          'a hover',
          async () => {
            seen = (await text()) || seen;
            return text();
          },
          (value) => expected.test(value) && !/^Loading/.test(value),
          4_000,
        );
      } catch {
        await this.noHover();
      }
    }
    throw new Error(`No hover over ${named(place)} says ${expected}; last seen: ${JSON.stringify(seen)}`);
  }

  /** Takes the mouse off the text, and the hover with it. */
  async noHover(): Promise<void> {
    await this.page.mouse.move(2, 2);
    await this.page.locator('.monaco-hover:visible .monaco-hover-content').first().waitFor({ state: 'hidden' });
  }

  /** Types at the caret and returns the labels that are then offered, once `expected` is among them. */
  async completionsAfter(typed: string, expected = /./): Promise<string[]> {
    await this.page.keyboard.type(typed, { delay: 20 });
    const names = this.page.locator('.suggest-widget.visible .monaco-list-row .label-name');
    const end = Date.now() + 45_000;
    let seen: string[] = [];
    while (Date.now() < end) {
      try {
        return await eventually(
          'completions',
          async () => {
            seen = await names.allTextContents();
            return seen;
          },
          (labels) => labels.some((label) => expected.test(label)),
          4_000,
        );
      } catch {
        await this.page.keyboard.press('Escape');
        await this.page.keyboard.press('Control+Space');
      }
    }
    throw new Error(`No completion after "${typed}" is ${expected}; last offered: ${JSON.stringify(seen)}`);
  }

  /** Takes one of the completions that are on offer. */
  async takeCompletion(label: string): Promise<void> {
    const row = this.page.locator('.suggest-widget.visible .monaco-list-row', {
      has: this.page.locator('.label-name').getByText(label, { exact: true }),
    });
    await row.first().click();
    await this.page.locator('.suggest-widget.visible').waitFor({ state: 'detached' });
  }

  /** The titles of the fixes offered at a text, once `expected` is among them. The menu stays open. */
  async quickFixes(place: Place, expected = /./): Promise<string[]> {
    const titles = this.page.locator('.action-widget .monaco-list-row.action .title');
    const end = Date.now() + 45_000;
    let seen: string[] = [];
    while (Date.now() < end) {
      await this.caretAt(place);
      await this.page.keyboard.press('Control+.');
      try {
        return await eventually(
          'quick fixes',
          async () => {
            seen = await titles.allTextContents();
            return seen;
          },
          (all) => all.some((title) => expected.test(title)),
          4_000,
        );
      } catch {
        await this.page.keyboard.press('Escape');
      }
    }
    throw new Error(`No fix at ${named(place)} is ${expected}; last offered: ${JSON.stringify(seen)}`);
  }

  /** Takes the first fix whose title is as expected, and returns its title. */
  async quickFix(place: Place, expected = /./): Promise<string> {
    const all = await this.quickFixes(place, expected);
    const index = all.findIndex((title) => expected.test(title));
    await this.page.locator('.action-widget .monaco-list-row.action').nth(index).click();
    await this.page.locator('.action-widget .monaco-list-row').first().waitFor({ state: 'hidden' });
    return all[index] as string;
  }

  /** Goes to a text's definition in another file; returns that file's name and the line that the caret is then on. */
  async goToDefinition(place: Place): Promise<{ file: string; line: string }> {
    const before = await this.activeFile();
    await this.caretAt(place);
    await this.page.keyboard.press('F12');
    const file = await eventually(
      `another file than ${before}`,
      () => this.activeFile(),
      (name) => name !== '' && name !== before,
    );
    await this.attach(file);
    const line = await eventually(
      'a line at the caret',
      () => this.lineAtCaret(),
      (text) => text !== '',
    );
    return { file, line };
  }
}
