import { mkdirSync, writeFileSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import type { Browser, CDPSession, FrameLocator, Locator, Page } from 'playwright-core';
import { openBrowser, openPage, windowSize } from './browser.js';
import { Editor } from './editor.js';
import { eventually } from './eventually.js';
import { Host, type Settings } from './host.js';

export type Theme = 'light' | 'dark' | 'hc-dark' | 'hc-light';

const themes: Record<Theme, { name: string; mark: string }> = {
  light: { name: 'Light Modern', mark: 'vs' },
  dark: { name: 'Dark Modern', mark: 'vs-dark' },
  'hc-dark': { name: 'Default High Contrast', mark: 'hc-black' },
  'hc-light': { name: 'Default High Contrast Light', mark: 'hc-light' },
};

/** A row of the Problems view. */
export interface Problem {
  file: string;
  severity: string;
  /** The finding's sentence. */
  message: string;
  /** The whole row as shown: sentence, source, code and place. */
  text: string;
}

/** What serves a workbench to the browser. */
export interface Serving {
  readonly url: string;
  /** What it has to say for a failure's report. */
  output(): string;
  stop(): Promise<void>;
}

/**
 * A real VS Code in a browser, with one extension installed and a folder open.
 * Every word waits for what it is about, and throws with what it saw when that does not come.
 */
export class Workbench<H extends Serving = Host> {
  private constructor(
    readonly host: H,
    readonly page: Page,
    private readonly browser: Browser,
    private readonly devtools: CDPSession,
    private readonly console: string[],
    /** Words for the text editor that was opened last. */
    readonly editor: Editor,
  ) {}

  /** Over a server of its own, with a copy of a folder. */
  static async open(vsix: string, folder: string, settings: Settings = {}): Promise<Workbench> {
    return Workbench.over(await Host.start(vsix, folder, settings));
  }

  /** Opens the window that a host serves; closing it stops the host too. */
  static async over<H extends Serving>(host: H): Promise<Workbench<H>> {
    let browser: Browser | undefined;
    const lines: string[] = [];
    try {
      browser = await openBrowser();
      const page = await openPage(browser, lines);
      await page.goto(host.url);
      await page.locator('.monaco-workbench .explorer-folders-view .monaco-list-row').first().waitFor();
      return new Workbench(host, page, browser, await page.context().newCDPSession(page), lines, new Editor(page));
    } catch (problem) {
      await browser?.close();
      const output = [...lines, host.output()].join('\n');
      await host.stop();
      throw new Error(`The workbench did not open\n${output}`, { cause: problem });
    }
  }

  async close(): Promise<void> {
    try {
      await this.browser.close();
    } finally {
      await this.host.stop();
    }
  }

  /** The page's console and the server's output, for a failure's report. */
  output(): string {
    return [...this.console, this.host.output()].join('\n');
  }

  /** Opens a workspace file by its name and puts the caret at its start. */
  async openFile(name: string): Promise<void> {
    await this.pick('Control+P', name, basename(name));
    await this.page.locator(`.tab.active[data-resource-name="${basename(name)}"]`).waitFor();
    await this.editor.attach(basename(name));
  }

  /** Runs a command by the words that the command palette shows for it. */
  async runCommand(title: string): Promise<void> {
    await this.pick('F1', `>${title}`, title);
  }

  /** Runs a command that asks something, and takes an answer from the list that it shows. */
  async runCommandAndChoose(title: string, answer: string): Promise<void> {
    await this.search('F1', `>${title}`, (labels) => labels.includes(title));
    await this.take(title);
    await this.rowOf(answer).waitFor();
    await this.take(answer);
    await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
  }

  /** Whether a file was edited and neither saved nor reverted. */
  async isEdited(): Promise<boolean> {
    return (await this.page.locator('.tab.dirty').count()) > 0;
  }

  /** What the command palette offers for these words. */
  async commandsFor(words: string): Promise<string[]> {
    const labels = await this.search('F1', `>${words}`, (found) => found.length > 0);
    await this.page.keyboard.press('Escape');
    return labels;
  }

  private async pick(key: string, words: string, label: string): Promise<void> {
    await this.search(key, words, (labels) => labels.includes(label));
    await this.take(label);
    await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
  }

  /** Goes down the list on top to the entry with this label, and takes it. */
  private async take(label: string): Promise<void> {
    const row = this.rowOf(label);
    await eventually(
      `"${label}" in focus`,
      async () => {
        const there = ((await row.getAttribute('class')) ?? '').split(' ').includes('focused');
        if (!there) await this.page.keyboard.press('ArrowDown');
        return there;
      },
      (there) => there,
    );
    await this.page.keyboard.press('Enter');
  }

  /** The entry of the list on top that has exactly this label. */
  private rowOf(label: string): Locator {
    const exactly = new RegExp(`^${label.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`);
    const name = this.page.locator('.label-name').filter({ hasText: exactly });
    return this.page.locator('.quick-input-list .monaco-list-row').filter({ has: name }).first();
  }

  private async search(key: string, words: string, accept: (labels: string[]) => boolean): Promise<string[]> {
    const widget = this.page.locator('.quick-input-widget');
    const input = widget.locator('input.input');
    // A key pressed while a panel's page goes away reaches nobody, and a page that comes takes the focus, which closes the list.
    const open = () =>
      eventually(
        'the list on top',
        async () => {
          if (!(await input.isVisible())) await this.page.keyboard.press(key);
          return input.fill(words, { timeout: 1000 }).then(
            () => true,
            () => false,
          );
        },
        (isOpen) => isOpen,
      );
    await open();
    const names = widget.locator('.quick-input-list .monaco-list-row .quick-input-list-row:first-child .label-name');
    let before: string[] = [];
    return eventually(
      `an entry for "${words}"`,
      async () => {
        if (!(await input.isVisible())) await open();
        const labels = await names.allTextContents();
        // The list is filled in several goes, and a click while rows still move would land on another one.
        const settled = labels.join('\n') === before.join('\n');
        before = labels;
        return settled ? labels : [];
      },
      accept,
    );
  }

  /**
   * The rows of the Problems view under one file, or under all, in the view's order.
   * With a count, waits until there are exactly that many.
   */
  async problems(file?: string, count?: number): Promise<Problem[]> {
    const view = this.page.locator('.markers-panel');
    if (!(await view.isVisible())) {
      await this.runCommand('Problems: Focus on Problems View');
      await view.waitFor();
    }
    return eventually(
      `${count ?? 'any'} problems in ${file ?? 'all files'}`,
      async () => (await this.problemRows()).filter((row) => file === undefined || row.file === file),
      (rows) => count === undefined || rows.length === count,
    );
  }

  private problemRows(): Promise<Problem[]> {
    return this.page.locator('.markers-panel .tree-container').evaluate((tree) => {
      const problems: Problem[] = [];
      let file = '';
      const rows = [...tree.querySelectorAll('.monaco-list-row')];
      rows.sort((a, b) => Number(a.getAttribute('data-index')) - Number(b.getAttribute('data-index')));
      for (const row of rows) {
        const message = row.querySelector('.marker-message');
        if (message) {
          const icon = row.querySelector('.marker-icon .codicon');
          const severity = /codicon-(error|warning|info)/.exec(icon?.className ?? '')?.[1] ?? '';
          const text = row.querySelector('.marker-message-details-container')?.textContent ?? '';
          problems.push({ file, severity, message: message.textContent ?? '', text });
        } else {
          file = row.querySelector('.label-name')?.textContent ?? file;
        }
      }
      return problems;
    });
  }

  /** Hides what stands beside and below the editors. */
  async showOnlyEditors(): Promise<void> {
    const parts = { '.part.sidebar': 'View: Close Primary Side Bar', '.part.panel': 'View: Hide Panel' };
    for (const [part, command] of Object.entries(parts)) {
      if (await this.page.locator(part).isVisible()) {
        await this.runCommand(command);
        await this.page.locator(part).waitFor({ state: 'hidden' });
      }
    }
  }

  /** Drags the edge between the editors and what is below them. */
  async setBottomHeight(pixels: number): Promise<void> {
    const part = this.page.locator('.part.panel');
    const height = async () => (await part.boundingBox())?.height ?? 0;
    const { x, y, width } = (await part.boundingBox()) ?? { x: 0, y: 0, width: 0 };
    const middle = x + width / 2;
    await this.page.mouse.move(middle, y - 1);
    await this.page.mouse.down();
    await this.page.mouse.move(middle, y - 1 + (await height()) - pixels, { steps: 5 });
    await this.page.mouse.up();
    await eventually(`a height of ${pixels}`, height, (seen) => Math.abs(seen - pixels) < 10);
    await this.page.mouse.move(2, 2);
  }

  /** Drags the edge between the first column of editors and the next. */
  async setColumnWidth(pixels: number): Promise<void> {
    const group = this.page.locator('.editor-group-container').first();
    const { x, y, width, height } = (await group.boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 };
    await this.page.mouse.move(x + width, y + height / 2);
    await this.page.mouse.down();
    await this.page.mouse.move(x + pixels, y + height / 2, { steps: 5 });
    await this.page.mouse.up();
    const seen = async () => (await group.boundingBox())?.width ?? 0;
    await eventually(`a column of ${pixels}`, seen, (now) => Math.abs(now - pixels) < 10);
    await this.page.mouse.move(2, 2);
  }

  /** The content of the extension's webview. */
  panel(): FrameLocator {
    return this.page.frameLocator('iframe.webview.ready >> visible=true').frameLocator('#active-frame');
  }

  async setTheme(this: Workbench, theme: Theme): Promise<void> {
    const { name, mark } = themes[theme];
    this.host.set({ 'workbench.colorTheme': name });
    await this.page.locator(`.monaco-workbench.${mark}`).waitFor();
  }

  /** Zooms as a browser does: 2 shows everything at twice the size in the same window. */
  async setZoom(factor: number): Promise<void> {
    const width = Math.round(windowSize.width / factor);
    await this.devtools.send('Emulation.setDeviceMetricsOverride', {
      width,
      height: Math.round(windowSize.height / factor),
      deviceScaleFactor: factor,
      mobile: false,
    });
    await eventually(
      `a window of ${width} pixels`,
      () => this.page.locator('.monaco-workbench').evaluate((workbench) => workbench.clientWidth),
      (seen) => seen === width,
    );
  }

  async screenshot(path: string): Promise<void> {
    mkdirSync(dirname(path), { recursive: true });
    // Not by page.screenshot(), which ends a zoom.
    const { data } = await this.devtools.send('Page.captureScreenshot', { format: 'png' });
    writeFileSync(path, Buffer.from(data, 'base64'));
  }
}
