// The panel's page in a real browser with the real language server behind it: what it shows, how it is reached, and that nothing bars anybody.
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { recordOf } from '../bench/records.mjs';
import { openBrowser } from './browser.js';
import {
  type KeptPanel,
  openPanelPage,
  type PanelPage,
  type PanelServer,
  type PanelTheme,
  startPanelServer,
} from './panel-page.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const example = (name: string) => readFileSync(join(root, 'examples', name), 'utf8');
const bell = example('as-found-bell.wiring');
const axe = readFileSync(join(root, 'node_modules', 'axe-core', 'axe.min.js'), 'utf8');

let browser: Browser;
let server: PanelServer;
let panel: PanelPage;
let page: Page;

/** One server and one page for all: what a test opens is a document of its own, in a page that is loaded anew. */
beforeAll(async () => {
  [browser, server] = await Promise.all([openBrowser(), startPanelServer()]);
  page = await (await browser.newContext({ reducedMotion: 'reduce' })).newPage();
});

afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

async function open(text: string, { theme = 'vscode-light', width = 900, state }: Opening = {}): Promise<void> {
  await page.setViewportSize({ width, height: 900 });
  panel = await openPanelPage(page, text, { theme, state, server });
  await page.locator('svg.drawing').waitFor();
}

interface Opening {
  readonly theme?: PanelTheme;
  readonly width?: number;
  readonly state?: KeptPanel;
}

afterEach(() => panel?.stop());

const drawn = () => page.locator('svg.drawing');
const part = (name: string) => drawn().locator(`g.part[data-part="${name}"]`);
const button = (name: string) => part(name).locator('[role=button]');
const live = () => drawn().locator('g.wire.live').count();
const places = () =>
  drawn().evaluate((svg) =>
    [...svg.querySelectorAll('g.part')].map((each) => [each.getAttribute('data-part'), each.getAttribute('transform')]),
  );

describe('the drawing', () => {
  test('shows the state that is chosen, for the figures and for itself, and the focus stays', async () => {
    await open(bell);
    expect(await live()).toBe(0);
    await part('porch-button').evaluate((each) => Object.assign(each, { same: true }));
    const held = page.getByRole('radio', { name: 'porch-button held', exact: true });
    await held.check();
    await expect.poll(live).toBeGreaterThan(3);
    expect(await button('porch-button').getAttribute('aria-label')).toContain('contact closed');
    expect(await button('yard-button').getAttribute('aria-label')).toContain('contact open');
    expect(await page.locator('tr.shown').first().textContent()).toContain('porch-button held');
    expect(await held.evaluate((radio) => radio === document.activeElement)).toBe(true);
    // What it was drawn with is still there: nothing was thrown away and made anew.
    expect(await part('porch-button').evaluate((each) => 'same' in each)).toBe(true);
  });

  test('leads to the line of a part, a conductor and a name, by mouse and by keys', async () => {
    await open(bell);
    await part('hall-chime').click();
    await drawn().locator('g.wire-label[data-part="tx-to-yard"]').first().click();
    await button('bell-tx').focus();
    await page.keyboard.press('Enter');
    await button('yard-button').focus();
    await page.keyboard.press('Space');
    await expect
      .poll(() => panel.revealed.map(({ name }) => name))
      .toEqual(['hall-chime', 'tx-to-yard', 'bell-tx', 'yard-button']);
  });

  test('can be walked through with the tab key, part by part', async () => {
    await open(bell);
    await page.getByRole('region', { name: 'Circuit drawing' }).focus();
    const reached: (string | null)[] = [];
    for (let each = 0; each < 4; each++) {
      await page.keyboard.press('Tab');
      reached.push(
        await page.evaluate(() => document.activeElement?.closest('.part')?.getAttribute('data-part') ?? null),
      );
    }
    expect([...reached].sort()).toEqual(['bell-tx', 'hall-chime', 'porch-button', 'yard-button']);
  });

  test('marks the part at the cursor', async () => {
    await open(bell);
    await panel.send({ kind: 'marked', name: 'hall-chime' });
    await expect.poll(() => drawn().locator('g.part.at-cursor').getAttribute('data-part')).toBe('hall-chime');
    expect(await page.locator('#part-hall-chime.marked').count()).toBe(1);
    await panel.send({ kind: 'marked', name: 'tx-to-yard' });
    await expect.poll(() => drawn().locator('g.wire.at-cursor').count()).toBe(2);
    expect(await drawn().locator('g.part.at-cursor').count()).toBe(0);
  });

  test('stays where it is when a length is edited, and keeps its parts in order when one is added', async () => {
    await open(bell);
    const before = await places();
    await panel.edit('9 m', '13 m');
    await expect.poll(() => page.locator('#part-tx-to-hall').textContent()).toContain('42 ft');
    expect(await places()).toEqual(before);
  });

  test('is by circuit where there are too many parts, follows the cursor, and any circuit can be picked', async () => {
    await open(recordOf(1000));
    expect(await drawn().locator('g.part').count()).toBe(3);
    await panel.send({ kind: 'marked', name: 'h7-chime' });
    await part('h7-tx').waitFor();
    await page.locator('select[data-pick=circuit]').selectOption({ label: 'h12-tx: h12-cam and h12-chime' });
    await part('h12-tx').waitFor();
    await panel.send({ kind: 'marked', name: 'h3-chime' });
    await expect.poll(() => page.locator('#part-h3-chime.marked').count()).toBe(1);
    expect(await part('h12-tx').count()).toBe(1);
  });

  test('has the numbers of the findings', async () => {
    await open(example('doorbell-first-try.wiring'));
    const marks = await drawn().locator('g.mark').allTextContents();
    const list = await page.locator('.finding .number').allTextContents();
    expect(marks.length).toBeGreaterThan(0);
    for (const number of marks) expect(list).toContain(number);
  });
});

describe('sliders', () => {
  const slide = (label: string, value: number) =>
    page.getByLabel(label).evaluate((input, wanted) => {
      (input as HTMLInputElement).value = String(wanted);
      input.dispatchEvent(new Event('input', { bubbles: true }));
    }, value);
  const open16 = () => page.getByRole('region', { name: 'Supply bell-tx' }).getByRole('cell').first().textContent();

  test('solve anew at their values, and say that the findings do not follow', async () => {
    await open(bell);
    expect(await open16()).toBe('19.8');
    const judged = async () =>
      (await page.locator('#part-hall-chime .fine').allTextContents()).map((words) => words.replace(/ Carries.*/, ''));
    const least = await judged();
    await slide('Mains, V', 114);
    await expect.poll(open16).toBe('18.8');
    await page.getByText('Figures of a state are at 114 V mains').waitFor();
    expect(least.join()).toContain('Least 13.4 V');
    expect(await judged()).toEqual(least);
    const ohms = () => page.locator('#part-tx-to-hall td').first().textContent();
    const cold = Number(await ohms());
    await slide('Wire, °C', 60);
    await expect.poll(async () => Number(await ohms())).toBeGreaterThan(cold);
    await page.getByRole('button', { name: 'Back to nominal' }).click();
    await expect.poll(open16).toBe('19.8');
  });
});

describe('plots', () => {
  test('go to the device and the run at the cursor, or to those that are picked, with a table behind each', async () => {
    await open(bell);
    const along = page.locator('#along');
    const howFar = page.locator('#how-far');
    expect(await along.locator('svg').first().getAttribute('aria-label')).toContain('way to hall-chime');
    await panel.send({ kind: 'marked', name: 'tx-to-yard' });
    await expect.poll(() => howFar.locator('svg').getAttribute('aria-label')).toContain('How far could tx-to-yard go');
    await howFar.locator('select').selectOption('tx-to-porch');
    await expect.poll(() => howFar.locator('svg').getAttribute('aria-label')).toContain('tx-to-porch');
    await howFar.getByText('As a table').click();
    expect(await howFar.locator('tbody tr').count()).toBe(5);
    await along.getByText('As a table').first().click();
    expect(await along.locator('tbody tr').first().textContent()).toContain('bell-tx a');
  });
});

describe('what was chosen', () => {
  test('is there again after a reload, the place on the page as well', async () => {
    await open(bell);
    await page.getByRole('radio', { name: 'yard-button held', exact: true }).check();
    await page.getByRole('button', { name: 'Pin' }).click();
    await page.locator('#drawing').getByText('As a table').click();
    await page.evaluate(() => window.scrollTo(0, 600));
    await expect.poll(() => page.evaluate(() => window.kept.scroll)).toBeGreaterThan(500);
    const state = await page.evaluate(() => window.kept);
    await panel.stop();

    await open(bell, { state });
    expect(await page.getByRole('radio', { name: 'yard-button held', exact: true }).isChecked()).toBe(true);
    expect(await page.getByRole('button', { name: 'Pinned' }).getAttribute('aria-pressed')).toBe('true');
    expect(await page.locator('#drawing .behind').getAttribute('open')).not.toBeNull();
    await expect.poll(() => page.evaluate(() => window.scrollY)).toBe(state.scroll);
    expect(panel.revealed).toEqual([]);
  });

  test('a picture that is not up to date says so, and stays', async () => {
    await open(bell);
    const before = await places();
    await panel.edit('hall-chime.trans', 'hall-chime.');
    await page.getByText('Not up to date').waitFor();
    expect(await places()).toEqual(before);
    await panel.edit('hall-chime.\n', 'hall-chime.trans\n');
    await page.getByText('Not up to date').waitFor({ state: 'detached' });
  });
});

describe('nobody is barred', () => {
  test.each<PanelTheme>(['vscode-light', 'vscode-dark', 'vscode-high-contrast', 'vscode-high-contrast-light'])(
    'axe finds nothing: %s',
    async (theme) => {
      await open(example('doorbell-first-try.wiring'), { theme });
      await panel.send({ kind: 'marked', name: 'hall-chime' });
      await page.getByRole('radio').nth(1).check();
      for (const table of await page.getByText('As a table').all()) await table.click();
      await page.evaluate(axe);
      const { violations } = await page.evaluate(() => window.axe.run());
      const said = violations.map(
        ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' | ')}`,
      );
      expect(said).toEqual([]);
    },
  );

  test.each([450, 320])(
    'at twice the size nothing is cut off: a panel of %i pixels scrolls downwards alone',
    async (width) => {
      await open(bell, { width });
      const overflow = () =>
        page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      await expect.poll(overflow).toBeLessThanOrEqual(0);
    },
  );

  test('nothing moves for who wants no motion', async () => {
    await open(bell);
    const moving = await page.evaluate(
      () =>
        [...document.querySelectorAll('*')].filter((each) => {
          const { transitionDuration, animationName } = getComputedStyle(each);
          return /[1-9]/.test(transitionDuration) || animationName !== 'none';
        }).length,
    );
    expect(moving).toBe(0);
  });
});

declare global {
  interface Window {
    kept: KeptPanel & { readonly scroll: number };
  }
}
