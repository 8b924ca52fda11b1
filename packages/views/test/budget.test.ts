// Each folder of cases/ holds a budget and what every form of it looks like, side by side.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Budget } from '@ohmstead/record';
import { describe, expect, test } from 'vitest';
import { budgetHtml, budgetMarkdown, budgetPanelHtml, budgetText } from '../src/index.js';

const folder = new URL('cases/', import.meta.url).pathname;
const cases = readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory() ? [entry.name] : [],
);

async function budgetOf(name: string): Promise<Budget> {
  return (await import(`./cases/${name}/input.ts`)).budget;
}

describe.each(cases)('%s', (name) => {
  test('reads as written beside it', async () => {
    const budget = await budgetOf(name);
    await expect(budgetText(budget)).toMatchFileSnapshot(join(folder, name, 'budget.txt'));
    await expect(budgetMarkdown(budget)).toMatchFileSnapshot(join(folder, name, 'budget-markdown.txt'));
    await expect(budgetHtml(budget)).toMatchFileSnapshot(join(folder, name, 'budget-html.txt'));
    await expect(`${budgetPanelHtml(budget)}\n`).toMatchFileSnapshot(join(folder, name, 'panel-html.txt'));
  });

  test('fits a terminal of 100 columns', async () => {
    const lines = budgetText(await budgetOf(name)).split('\n');
    expect(lines.filter((line) => [...line].length > 100)).toEqual([]);
  });

  test('says the same in all forms, cautions included, and vouches for nothing', async () => {
    const budget = await budgetOf(name);
    const forms = [budgetText(budget), budgetMarkdown(budget), budgetHtml(budget), budgetPanelHtml(budget)];
    for (const form of forms) {
      const words = form.replace(/\s+/g, ' ');
      expect(words).toContain('Computed from the record, not measured.');
      expect(words).toContain('isolate the supply and prove it dead');
      expect(words).not.toMatch(/\b(safe|legal|compliant)\b/i);
      expect(words).not.toMatch(/\b(node|island|corner|solver)\b/i);
    }
  });
});

describe('volts against the band', () => {
  test('are not asked of a coil that nothing drives', async () => {
    const budget = await budgetOf('plain-bell');
    const [chime, ...others] = budget.devices;
    const [front, rear] = chime!.elements;
    const idle = { ...rear!, solved: rear!.solved.map((each) => ({ ...each, volts: 0 })), leastWorking: null };
    const text = budgetText({ ...budget, devices: [{ ...chime!, elements: [front!, idle] }, ...others] });
    expect(text).toContain('coil, trans to front: 13.1-15.7 V, within 11.2-18.4 V');
    expect(text).toContain('coil, trans to rear: no volts, whatever is pressed\n');
  });

  test('say which limit is passed, and whether always or at times', async () => {
    const budget = await budgetOf('plain-bell');
    const [chime, ...others] = budget.devices;
    const banded = (least: number | null, most: number | null) =>
      budgetText({ ...budget, devices: [{ ...chime!, band: { least, most } }, ...others] });
    expect(banded(14, null)).toContain('trans to front: 13.1-15.7 V, falls below 14 V');
    expect(banded(16, 24)).toContain('trans to front: 13.1-15.7 V, below 16 V');
    expect(banded(null, 14)).toContain('trans to front: 13.1-15.7 V, rises above 14 V');
    expect(banded(5, 12.9)).toContain('trans to front: 13.1-15.7 V, above 12.9 V');
    expect(banded(15.749, null)).toContain('trans to front: 13.1-15.7 V, just below 15.7 V');
    expect(banded(13.149, null)).toContain('trans to front: 13.1-15.7 V, falls just below 13.1 V');
    expect(banded(null, 15.651)).toContain('trans to front: 13.1-15.7 V, rises just above 15.7 V');
    expect(banded(5, null)).toContain('trans to front: 13.1-15.7 V, within 5 V or more');
    expect(banded(null, null)).toContain('trans to front: 13.1-15.7 V, no limits to hold it to');
  });
});

describe('what a supply has left', () => {
  test('is told for what lasts, with the worst moment beside it', async () => {
    const text = budgetText(await budgetOf('plain-bell'));
    expect(text).toContain('  10 VA left of 10 VA at rest\n');
    expect(text.replace(/\s+/g, ' ')).toContain(
      '144 % of its rating drawn at worst, while back-button and porch-button are held, for as long as that lasts',
    );
  });

  test('is told as too much where it lasts', async () => {
    const budget = await budgetOf('plain-bell');
    const [supply] = budget.supplies;
    const [winding] = supply!.windings;
    const lasting = { closed: [], loads: 'peak' as const, va: 14, share: 1.5 };
    const windings = [{ ...winding!, worst: lasting, lasting }];
    const text = budgetText({ ...budget, supplies: [{ ...supply!, windings }] });
    expect(text).toContain('  5 VA over its 10 VA at rest with loads at their peak\n');
    expect(text).toContain('  150 % of its rating drawn at worst, at rest with loads at their peak\n');
  });
});

describe('colour in a terminal', () => {
  test('is left out unless asked for', async () => {
    const budget = await budgetOf('starved');
    const coloured = budgetText(budget, { colour: true });
    expect(budgetText(budget)).not.toContain('\u001b');
    expect(coloured).toContain('\u001b[31mError');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
    expect(coloured.replace(/\u001b\[\d+m/g, '')).toBe(budgetText(budget));
  });
});

describe('the panel', () => {
  test('shows the figures of the state that is chosen', async () => {
    const budget = await budgetOf('plain-bell');
    const key = 'bell-tx+back-button+hall-chime+porch-button';
    expect(budgetPanelHtml(budget)).toContain('At rest: 0 V');
    const held = budgetPanelHtml(budget, { shown: { [key]: 'porch-button/idle' } });
    expect(held).toContain('porch-button held: 15.7 V, 0.51 A, 7.9 VA');
    expect(held).toMatch(/<input type="radio"[^>]*value="porch-button\/idle"[^>]* checked>/);
    expect(held.match(/ checked>/g)).toHaveLength(1);
  });

  test('falls back to the first state when the chosen one is gone', async () => {
    const budget = await budgetOf('plain-bell');
    const gone = { 'bell-tx+back-button+hall-chime+porch-button': 'side-button/idle' };
    expect(budgetPanelHtml(budget, { shown: gone })).toBe(budgetPanelHtml(budget));
  });

  test('marks the part at the cursor, and says when it is not up to date', async () => {
    const budget = await budgetOf('plain-bell');
    expect(budgetPanelHtml(budget, { marked: 'hall-chime' })).toContain(
      '<li class="part device marked" id="part-hall-chime">',
    );
    expect(budgetPanelHtml(budget)).not.toContain('marked');
    expect(budgetPanelHtml(budget, { stale: true })).toContain('Not up to date.');
    expect(budgetPanelHtml(budget)).not.toContain('Not up to date.');
  });

  test('makes a located finding something to follow', async () => {
    const range = { start: { line: 3, character: 7 }, end: { line: 3, character: 14 } };
    const findings = [{ uri: 'file:///a.wiring', range, severity: 'error', code: 'never-fed', message: 'x' } as const];
    const panel = budgetPanelHtml(await budgetOf('plain-bell'), { findings });
    expect(panel).toContain('data-uri="file:///a.wiring"');
    expect(panel).toContain(
      'data-range="{&quot;start&quot;:{&quot;line&quot;:3,&quot;character&quot;:7},&quot;end&quot;:{&quot;line&quot;:3,&quot;character&quot;:14}}"',
    );
    expect(panel).toContain('<a href="#findings">1 error</a>');
  });
});

test('an empty record has a budget that says so', () => {
  const empty: Budget = {
    version: 1,
    title: '',
    profile: 'north-america',
    circuits: [],
    supplies: [],
    devices: [],
    runs: [],
    assumptions: [],
    findings: [],
  };
  for (const form of [budgetText(empty), budgetMarkdown(empty), budgetHtml(empty), budgetPanelHtml(empty)]) {
    expect(form).toContain('Untitled record');
    expect(form).toContain('No supply or device is recorded yet.');
  }
});
