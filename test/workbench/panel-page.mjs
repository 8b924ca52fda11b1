/**
 * The panel's page by itself in Chromium, with the language server behind it over the real protocol and the colours that the editor
 * gives each kind of theme. What an editor does between the two is done here.
 */

import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { connect, openIn, typeInto } from '../bench/peer.mjs';

const dist = (name) => fileURLToPath(new URL(`../../packages/extension/dist/${name}`, import.meta.url));

/** The editor's own colours for its four kinds of theme, as far as the panel asks for them; taken from its default themes. */
export const themes = {
  'vscode-light': {
    'editor-background': '#ffffff',
    foreground: '#3b3b3b',
    descriptionForeground: '#3b3b3b',
    'panel-border': '#e5e5e5',
    'widget-border': '#e5e5e5',
    'scrollbarSlider-background': '#64646466',
    'progressBar-background': '#005fb8',
    'charts-blue': '#0063d3',
    'charts-green': '#388a34',
    'textBlockQuote-background': '#f8f8f8',
    errorForeground: '#f85149',
    'editorError-foreground': '#e51400',
    'editorWarning-foreground': '#bf8803',
    'editorInfo-foreground': '#0063d3',
    'textLink-foreground': '#005fb8',
    focusBorder: '#005fb8',
    'list-inactiveSelectionBackground': '#e4e6f1',
  },
  'vscode-dark': {
    'editor-background': '#1f1f1f',
    foreground: '#cccccc',
    descriptionForeground: '#9d9d9d',
    'panel-border': '#2b2b2b',
    'widget-border': '#313131',
    'scrollbarSlider-background': '#79797966',
    'progressBar-background': '#0078d4',
    'charts-blue': '#59a4f9',
    'charts-green': '#89d185',
    'textBlockQuote-background': '#2b2b2b',
    errorForeground: '#f85149',
    'editorError-foreground': '#f14c4c',
    'editorWarning-foreground': '#cca700',
    'editorInfo-foreground': '#59a4f9',
    'textLink-foreground': '#4daafc',
    focusBorder: '#0078d4',
    'list-inactiveSelectionBackground': '#37373d',
  },
  'vscode-high-contrast': {
    'editor-background': '#000000',
    foreground: '#ffffff',
    descriptionForeground: '#ffffff',
    contrastBorder: '#6fc3df',
    'panel-border': '#6fc3df',
    'scrollbarSlider-background': '#6fc3df99',
    'progressBar-background': '#6fc3df',
    'charts-blue': '#59a4f9',
    'charts-green': '#89d185',
    'textBlockQuote-background': '#000000',
    errorForeground: '#f48771',
    'editorError-foreground': '#f48771',
    'editorWarning-foreground': '#ffd370',
    'editorInfo-foreground': '#59a4f9',
    'textLink-foreground': '#21a6ff',
    focusBorder: '#f38518',
  },
  'vscode-high-contrast-light': {
    'editor-background': '#ffffff',
    foreground: '#292929',
    descriptionForeground: '#292929',
    contrastBorder: '#0f4a85',
    'panel-border': '#0f4a85',
    'scrollbarSlider-background': '#0f4a8566',
    'progressBar-background': '#0f4a85',
    'charts-blue': '#0063d3',
    'charts-green': '#374e06',
    'textBlockQuote-background': '#ffffff',
    errorForeground: '#b5200d',
    'editorError-foreground': '#b5200d',
    'editorWarning-foreground': '#895503',
    'editorInfo-foreground': '#0063d3',
    'textLink-foreground': '#0f4a85',
    focusBorder: '#006bbd',
  },
};

/** The language server that a desktop starts; one can stand behind several pages, one after another. */
export async function startPanelServer() {
  return Object.assign(await connect([dist('start-server.js'), '--stdio']), { saysAnalysed: true });
}

/** Who listens to a page at present: a page keeps the function that it calls its host by for as long as it lives. */
const hosts = new WeakMap();
let opened = 0;

/**
 * Opens a record's panel in a page of a browser, afresh where the page has shown one before. `window.times` collects how long the page
 * worked on each message, in ms. Without a server it starts one, which then stops with it.
 */
export async function openPanelPage(page, text, { theme = 'vscode-light', state, server: given } = {}) {
  // What was kept is of that record alone.
  const uri = state?.uri ?? `file:///records/panel-${++opened}.wiring`;
  const server = given ?? (await startPanelServer());
  const { document } = await openIn(server, uri, text);
  const revealed = [];
  let stopped = false;
  // A test that has ended awaits nothing any more.
  const send = async (message) => {
    if (!page.isClosed()) await page.evaluate((data) => window.tell(data), message);
  };
  const sendBudget = async (marked = null) => {
    const { budget, stale, findings } = await server.connection.sendRequest('ohmstead/budget', { uri });
    await send({ kind: 'budget', uri, budget, stale, findings, marked });
  };
  const answers = {
    ready: () => sendBudget(),
    layout: () => send({ kind: 'layout', script: readFileSync(dist('layout.js'), 'utf8') }),
    pictures: async ({ ask }) => {
      const answer = await server.connection.sendRequest('ohmstead/pictures', { uri, ...ask });
      await send({ kind: 'pictures', uri, answer });
    },
  };
  if (hosts.has(page)) await page.goto('about:blank');
  else await page.exposeFunction('toHost', (message) => hosts.get(page)(message));
  hosts.set(page, (message) => {
    if (stopped) return;
    const answer = answers[message.kind];
    if (answer) {
      Promise.resolve(answer(message)).catch((problem) => {
        if (!stopped) throw problem;
      });
    } else revealed.push(message);
  });
  const colours = Object.entries(themes[theme]).map(([name, value]) => `--vscode-${name}: ${value};`);
  const type = '--vscode-font-family: "Liberation Sans", sans-serif; --vscode-font-size: 13px;';
  const style = `:root { ${colours.join(' ')} ${type} --vscode-editor-font-family: monospace; } body { margin: 0; }`;
  await page.setContent(
    `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Load budget</title><style>${style}</style>` +
      `<style>${readFileSync(dist('panel.css'), 'utf8')}</style></head><body class="${theme}">` +
      '<main id="root" aria-label="Load budget"><p class="empty" role="status">Waiting for the record.</p></main></body></html>',
  );
  await page.evaluate((kept) => {
    window.times = [];
    window.kept = kept;
    window.acquireVsCodeApi = () => ({
      postMessage: (message) => void window.toHost(message),
      getState: () => window.kept,
      setState: (next) => {
        window.kept = next;
      },
    });
    // The page's work on a message is done while it is told of it, layout and layouting of the browser included.
    window.tell = (data) => {
      const began = performance.now();
      window.dispatchEvent(new MessageEvent('message', { data }));
      document.body.getBoundingClientRect();
      window.times.push({ kind: data.kind, ms: performance.now() - began });
    };
  }, state);
  await page.evaluate(
    (script) => {
      const began = performance.now();
      const element = document.createElement('script');
      element.textContent = script;
      document.body.append(element);
      window.scriptMs = performance.now() - began;
    },
    readFileSync(dist('panel.js'), 'utf8'),
  );
  const editAt = async (start, end, put) => {
    await typeInto(server, document, [{ start, end, text: put }], { warmUp: 0 });
    await sendBudget();
  };
  const edit = async (from, to) => {
    const start = document.getText().indexOf(from);
    if (start < 0) throw new Error(`no "${from}" in the record`);
    await editAt(start, start + from.length, to);
  };
  const stop = () => {
    stopped = true;
    if (!given) return server.stop();
    return server.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
  };
  return { page, server, uri, document, revealed, send, sendBudget, edit, editAt, stop };
}
