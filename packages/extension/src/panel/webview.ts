/** What the hosts of the panels have in common: the page they set up, the answers they pass on to it, and the places it leads to. */

import type { ProtocolLocation } from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { LanguageServer } from '../language-server.js';
import { panelShell } from './shell.js';

/** What every panel is made with. */
export interface PanelServices {
  readonly server: LanguageServer;
  readonly extensionUri: vscode.Uri;
  readonly log: vscode.LogOutputChannel;
}

interface PageParts<ToHost> {
  /** Of its script and its sheet: `panel` for `dist/panel.js` and `dist/panel.css`. */
  readonly name: string;
  /** What the page is called to a screen reader. */
  readonly title: string;
  /** The script starts workers from what it holds itself. */
  readonly workers?: boolean;
  receive(message: ToHost): void;
}

export interface Page<ToPage> {
  send(message: ToPage): void;
  /** Asks, and hands on the answer unless a later question has overtaken it. `failing` begins the line in the log where there is none. */
  ask<Answer>(question: Promise<Answer>, take: (answer: Answer) => void, failing: string): void;
}

/** Sets up a panel's document, its icon and both ways of talking to it. */
export function openPage<ToPage, ToHost>(
  panel: vscode.WebviewPanel,
  { extensionUri, log }: PanelServices,
  { name, title, workers = false, receive }: PageParts<ToHost>,
): Page<ToPage> {
  const dist = vscode.Uri.joinPath(extensionUri, 'dist');
  const { webview } = panel;
  const shipped = (file: string): string => webview.asWebviewUri(vscode.Uri.joinPath(dist, file)).toString();
  panel.iconPath = vscode.Uri.joinPath(extensionUri, 'media', 'record.svg');
  webview.options = { enableScripts: true, localResourceRoots: [dist] };
  webview.onDidReceiveMessage(receive);
  webview.html = panelShell({
    source: webview.cspSource,
    style: shipped(`${name}.css`),
    script: shipped(`${name}.js`),
    nonce: crypto.randomUUID(),
    title,
    workers,
  });
  let asked = 0;
  return {
    send: (message) => void webview.postMessage(message),
    ask(question, take, failing) {
      const mine = ++asked;
      question.then(
        (answer) => {
          if (mine === asked) take(answer);
        },
        (problem: unknown) => log.error(`${failing}: ${problem}`),
      );
    },
  };
}

/** Selects a place in the editor that shows its file, else in one beside the panel. */
export async function showBeside(
  panel: vscode.WebviewPanel,
  { uri, range: { start, end } }: ProtocolLocation,
  log: vscode.LogOutputChannel,
): Promise<void> {
  const open = vscode.window.visibleTextEditors.find(({ document }) => isSameFile(document.uri.toString(), uri));
  const beside = panel.viewColumn === vscode.ViewColumn.One ? vscode.ViewColumn.Two : vscode.ViewColumn.One;
  try {
    await vscode.window.showTextDocument(vscode.Uri.parse(uri), {
      viewColumn: open?.viewColumn ?? beside,
      selection: new vscode.Range(start.line, start.character, end.line, end.character),
    });
  } catch (problem) {
    log.warn(`Could not show ${uri}: ${problem}`);
  }
}

/** The editor and the server do not escape an address alike. */
export function isSameFile(one: string, other: string): boolean {
  return vscode.Uri.parse(one).toString() === vscode.Uri.parse(other).toString();
}
