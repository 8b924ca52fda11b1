import { existsSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';

const candidates = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser'];

/** A headless Chromium that reaches nothing but this machine. */
export function openBrowser(): Promise<Browser> {
  const executablePath = candidates.find((path) => path !== undefined && existsSync(path));
  if (!executablePath) {
    throw new Error('No Chromium: apt-get install chromium, or set CHROMIUM to its path');
  }
  return chromium.launch({
    executablePath,
    headless: true,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1',
    ],
  });
}

export const windowSize = { width: 1600, height: 1000 };

/** A page of the usual size; what it writes to its console is kept in `lines`. */
export async function openPage(browser: Browser, lines: string[]): Promise<Page> {
  const context = await browser.newContext({ viewport: windowSize, reducedMotion: 'reduce', locale: 'en-US' });
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  page.on('console', (message) => lines.push(`${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => lines.push(`page error: ${error.message}`));
  return page;
}
