/** The fault finder beside the editor: follows the active record, sends the page what fits its readings, and writes those that are taken into the text. */

import {
  EXPLAIN_REQUEST,
  type ExplainAnswer,
  type ExplainParams,
  type ProtocolLocation,
  TAKE_READING_REQUEST,
  type TakeReadingAnswer,
  type TakeReadingParams,
} from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { onAnalysed } from '../analysed.js';
import { panelShell } from '../panel/shell.js';
import { isRecord } from '../records.js';
import { dayOf } from './day.js';
import type { KeptExplanation, ToExplainHost, ToExplainPage } from './messages.js';

export const explainPanelType = 'ohmstead.faultFinder';
const TITLE = 'Fault Finder';

export class ExplainPanels {
  private panel: ExplainPanel | undefined;

  constructor(
    private readonly client: BaseLanguageClient,
    private readonly extensionUri: vscode.Uri,
    private readonly log: vscode.LogOutputChannel,
  ) {}

  register(): vscode.Disposable {
    return vscode.Disposable.from(
      onAnalysed(this.client, ({ uri }) => this.panel?.analysed(uri)),
      vscode.window.onDidChangeActiveTextEditor((editor) => {
        if (isRecord(editor)) this.panel?.turnTo(editor.document.uri);
      }),
      vscode.window.registerWebviewPanelSerializer(explainPanelType, {
        deserializeWebviewPanel: async (panel, kept: KeptExplanation | undefined) => {
          if (kept?.uri) this.adopt(panel, vscode.Uri.parse(kept.uri));
          else panel.dispose();
        },
      }),
      new vscode.Disposable(() => this.panel?.dispose()),
    );
  }

  show(uri: vscode.Uri): void {
    if (this.panel) this.panel.show(uri);
    else this.adopt(vscode.window.createWebviewPanel(explainPanelType, TITLE, vscode.ViewColumn.Beside), uri);
  }

  private adopt(webviewPanel: vscode.WebviewPanel, uri: vscode.Uri): void {
    this.panel?.dispose();
    const panel = new ExplainPanel(webviewPanel, uri, this.client, this.extensionUri, this.log);
    this.panel = panel;
    webviewPanel.onDidDispose(() => {
      if (this.panel === panel) this.panel = undefined;
    });
  }
}

class ExplainPanel {
  private locations: ExplainAnswer['locations'] = {};
  private readings: ExplainAnswer['readings'] = {};
  private recentWork = false;
  private asked = 0;

  constructor(
    private readonly panel: vscode.WebviewPanel,
    private uri: vscode.Uri,
    private readonly client: BaseLanguageClient,
    extensionUri: vscode.Uri,
    private readonly log: vscode.LogOutputChannel,
  ) {
    const dist = vscode.Uri.joinPath(extensionUri, 'dist');
    const { webview } = panel;
    panel.iconPath = vscode.Uri.joinPath(extensionUri, 'media', 'record.svg');
    webview.options = { enableScripts: true, localResourceRoots: [dist] };
    webview.onDidReceiveMessage((message: ToExplainHost) => this.receive(message));
    webview.html = panelShell({
      source: webview.cspSource,
      style: webview.asWebviewUri(vscode.Uri.joinPath(dist, 'explain.css')).toString(),
      script: webview.asWebviewUri(vscode.Uri.joinPath(dist, 'explain.js')).toString(),
      nonce: crypto.randomUUID(),
      title: TITLE,
    });
    this.setTitle();
  }

  show(uri: vscode.Uri): void {
    this.panel.reveal();
    this.turnTo(uri);
  }

  dispose(): void {
    this.panel.dispose();
  }

  turnTo(uri: vscode.Uri): void {
    if (uri.toString() === this.uri.toString()) return;
    this.uri = uri;
    this.setTitle();
    this.refresh();
  }

  analysed(uri: string): void {
    if (vscode.Uri.parse(uri).toString() === this.uri.toString()) this.refresh();
  }

  private setTitle(): void {
    this.panel.title = `${TITLE}: ${this.uri.path.split('/').at(-1)}`;
  }

  private refresh(): void {
    const asked = ++this.asked;
    const uri = this.uri.toString();
    const { recentWork } = this;
    this.client.sendRequest<ExplainAnswer>(EXPLAIN_REQUEST, { uri, recentWork } satisfies ExplainParams).then(
      ({ explained, stale, locations, readings }) => {
        // Answers that a later question has overtaken are dropped.
        if (asked !== this.asked) return;
        this.locations = locations;
        this.readings = readings;
        this.send({ kind: 'explained', uri, explained, stale });
      },
      (problem: unknown) => this.log.error(`Nothing could be explained for ${uri}: ${problem}`),
    );
  }

  private send(message: ToExplainPage): void {
    void this.panel.webview.postMessage(message);
  }

  private receive(message: ToExplainHost): void {
    switch (message.kind) {
      case 'ready':
      case 'recent-work':
        this.recentWork = message.recentWork;
        this.refresh();
        return;
      case 'take':
        void this.take(message.line);
        return;
      case 'reveal-part':
        void this.reveal(this.locations[message.name]);
        return;
      case 'reveal-reading':
        void this.reveal(this.readings[message.reading]);
    }
  }

  /** Into the record's text; what is shown follows when the record has been gone through anew. */
  private async take(line: string): Promise<void> {
    const { uri } = this;
    try {
      const document = await vscode.workspace.openTextDocument(uri);
      const params: TakeReadingParams = { uri: uri.toString(), line, on: dayOf(new Date()) };
      const answer = await this.client.sendRequest<TakeReadingAnswer>(TAKE_READING_REQUEST, params);
      if ('refused' in answer) {
        this.send({ kind: 'refused', message: answer.refused });
        return;
      }
      const { start, end } = answer.edit.range;
      const edit = new vscode.WorkspaceEdit();
      const range = new vscode.Range(start.line, start.character, end.line, end.character);
      edit.replace(uri, range, answer.edit.newText);
      // The edit is one of the text that it was made for.
      const applied = document.version === answer.version && (await vscode.workspace.applyEdit(edit));
      if (applied) this.send({ kind: 'taken', line });
      else this.send({ kind: 'refused', message: 'The record was changed at the same moment. Take it once more.' });
    } catch (problem) {
      this.log.error(`A reading could not be written into ${uri}: ${problem}`);
      this.send({ kind: 'refused', message: 'It could not be written into the record; the log says why.' });
    }
  }

  private async reveal(location: ProtocolLocation | undefined): Promise<void> {
    if (!location) return;
    const { uri, range } = location;
    const target = vscode.Uri.parse(uri);
    const open = vscode.window.visibleTextEditors.find((each) => each.document.uri.toString() === target.toString());
    const beside = this.panel.viewColumn === vscode.ViewColumn.One ? vscode.ViewColumn.Two : vscode.ViewColumn.One;
    try {
      await vscode.window.showTextDocument(target, {
        viewColumn: open?.viewColumn ?? beside,
        selection: new vscode.Range(range.start.line, range.start.character, range.end.line, range.end.character),
      });
    } catch (problem) {
      this.log.warn(`Could not show ${uri}: ${problem}`);
    }
  }
}
