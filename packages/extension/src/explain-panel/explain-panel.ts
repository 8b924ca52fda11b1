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
import { isSameFile, openPage, type Page, type PanelServices, showBeside } from '../panel/webview.js';
import { isRecord } from '../records.js';
import { dayOf } from './day.js';
import type { KeptExplanation, ToExplainHost, ToExplainPage } from './messages.js';

export const explainPanelType = 'ohmstead.faultFinder';
const TITLE = 'Fault Finder';

export class ExplainPanels {
  private panel: ExplainPanel | undefined;

  constructor(private readonly services: PanelServices) {}

  register(): vscode.Disposable {
    return vscode.Disposable.from(
      this.services.server.onAnalysed(({ uri }) => this.panel?.analysed(uri)),
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
    const panel = new ExplainPanel(webviewPanel, uri, this.services);
    this.panel = panel;
    webviewPanel.onDidDispose(() => {
      if (this.panel === panel) this.panel = undefined;
    });
  }
}

class ExplainPanel {
  private readonly page: Page<ToExplainPage>;
  private locations: ExplainAnswer['locations'] = {};
  private readings: ExplainAnswer['readings'] = {};
  private recentWork = false;

  constructor(
    private readonly panel: vscode.WebviewPanel,
    private uri: vscode.Uri,
    private readonly services: PanelServices,
  ) {
    const receive = (message: ToExplainHost) => this.receive(message);
    this.page = openPage(panel, services, { name: 'explain', title: TITLE, receive });
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
    if (isSameFile(uri, this.uri.toString())) this.refresh();
  }

  private setTitle(): void {
    this.panel.title = `${TITLE}: ${this.uri.path.split('/').at(-1)}`;
  }

  private refresh(): void {
    const uri = this.uri.toString();
    const params: ExplainParams = { uri, recentWork: this.recentWork };
    this.page.ask(
      this.services.server.request<ExplainAnswer>(EXPLAIN_REQUEST, params),
      ({ explained, stale, locations, readings }) => {
        this.locations = locations;
        this.readings = readings;
        this.page.send({ kind: 'explained', uri, explained, stale });
      },
      `Nothing could be explained for ${uri}`,
    );
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
        this.reveal(this.locations[message.name]);
        return;
      case 'reveal-reading':
        this.reveal(this.readings[message.reading]);
    }
  }

  /** Into the record's text; what is shown follows when the record has been gone through anew. */
  private async take(line: string): Promise<void> {
    const { uri } = this;
    try {
      const document = await vscode.workspace.openTextDocument(uri);
      const params: TakeReadingParams = { uri: uri.toString(), line, on: dayOf(new Date()) };
      const answer = await this.services.server.request<TakeReadingAnswer>(TAKE_READING_REQUEST, params);
      if ('refused' in answer) {
        this.page.send({ kind: 'refused', message: answer.refused });
        return;
      }
      const { start, end } = answer.edit.range;
      const edit = new vscode.WorkspaceEdit();
      const range = new vscode.Range(start.line, start.character, end.line, end.character);
      edit.replace(uri, range, answer.edit.newText);
      // The edit is one of the text that it was made for.
      const applied = document.version === answer.version && (await vscode.workspace.applyEdit(edit));
      if (applied) this.page.send({ kind: 'taken', line });
      else
        this.page.send({ kind: 'refused', message: 'The record was changed at the same moment. Take it once more.' });
    } catch (problem) {
      this.services.log.error(`A reading could not be written into ${uri}: ${problem}`);
      this.page.send({ kind: 'refused', message: 'It could not be written into the record; the log says why.' });
    }
  }

  private reveal(location: ProtocolLocation | undefined): void {
    if (location) void showBeside(this.panel, location, this.services.log);
  }
}
