/** How long the panel's page works: until it is first drawn, and for each message after an edit, in a headless Chromium. */

import { existsSync } from 'node:fs';
import { keystrokes, recordOf } from './records.mjs';
import { percentile } from './peer.mjs';

const EDITS = 20;
const WARM_UP = 4;
const chromium = ['/usr/bin/chromium', '/usr/bin/chromium-browser', process.env.CHROMIUM].find(
  (path) => path && existsSync(path),
);

/** Says so where there is no browser to measure in, which the workbench test installs. */
export async function measurePanel(lines, row) {
  const { openPanelPage } = await import('../workbench/panel-page.mjs');
  const driver = await import('../workbench/node_modules/playwright-core/index.mjs').catch(() => undefined);
  if (!driver || !chromium) {
    row('panel', 'not measured', 'npm run test:workbench installs what drives the browser');
    return;
  }
  const browser = await driver.chromium.launch({ executablePath: chromium, args: ['--no-sandbox', '--disable-gpu'] });
  try {
    const page = await browser.newPage({ viewport: { width: 900, height: 900 } });
    const text = recordOf(lines);
    const busy = await threadTime(page);
    const panel = await openPanelPage(page, text);
    await page.locator('svg.drawing').waitFor();
    const opening = await busy();
    const work = [];
    for (const { start, end, text: put } of keystrokes(text, EDITS + WARM_UP)) {
      await page.evaluate(() => window.times.splice(0));
      const before = await busy();
      await panel.editAt(start, end, put);
      // One for the figures, one for the pictures.
      await page.waitForFunction(() => window.times.some(({ kind }) => kind === 'pictures'));
      work.push((await busy()) - before);
    }
    const counted = work.slice(WARM_UP);
    row(`panel, opening ${lines} lines: page time`, `${opening.toFixed(1)} ms`, 'to be under 500 ms');
    for (const share of [0.5, 0.95]) {
      const spent = `${percentile(counted, share).toFixed(1)} ms`;
      row(`panel, after an edit in ${lines} lines: page time, p${share * 100}`, spent, 'to be under 50 ms');
    }
    await panel.stop();
  } finally {
    await browser.close();
  }
}

/** Milliseconds of the page's own thread so far, in script, style and layout; what else runs on the machine does not count. */
async function threadTime(page) {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable', { timeDomain: 'threadTicks' });
  const counted = new Set(['ScriptDuration', 'LayoutDuration', 'RecalcStyleDuration']);
  return async () => {
    const { metrics } = await devtools.send('Performance.getMetrics');
    return metrics.filter(({ name }) => counted.has(name)).reduce((sum, { value }) => sum + value * 1000, 0);
  };
}
