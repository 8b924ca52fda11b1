/** The load budget beside the editor: follows the active record, sends it to the page, and shows what is clicked. */

import {
  BUDGET_REQUEST,
  type BudgetAnswer,
  type BudgetParams,
  type ProtocolLocation,
} from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import { isRecord } from '../records.js';
import type { KeptState, ToHost, ToPage } from './messages.js';
import { partAt } from './part-at.js';
import { PICTURES_REQUEST, type PicturesAnswer, type PicturesAsk, type PicturesParams } from './pictures.js';
import { isSameFile, openPage, type Page, type PanelServices, showBeside } from './webview.js';

export const panelType = 'ohmstead.budget';

/** Names with hyphens are one word, as in the language configuration. */
const nameAtCursor = /[\p{L}][\p{L}\p{M}\p{N}-]*/u;

export class BudgetPanels {
  private panel: BudgetPanel | undefined;

  constructor(private readonly services: PanelServices) {}

  register(): vscode.Disposable {
    return vscode.Disposable.from(
      this.services.server.onAnalysed(({ uri }) => this.panel?.analysed(uri)),
      vscode.window.onDidChangeActiveTextEditor((editor) => this.panel?.follow(editor)),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => this.panel?.mark(textEditor)),
      vscode.window.registerWebviewPanelSerializer(panelType, {
        deserializeWebviewPanel: async (panel, state: KeptState | undefined) => {
          const uri = state?.uri ? vscode.Uri.parse(state.uri) : vscode.window.activeTextEditor?.document.uri;
          if (uri) this.adopt(panel, uri);
          else panel.dispose();
        },
      }),
      new vscode.Disposable(() => this.panel?.dispose()),
    );
  }

  show(document: vscode.TextDocument, preserveFocus: boolean): void {
    if (this.panel) {
      this.panel.show(document.uri, preserveFocus);
      return;
    }
    const where = { viewColumn: vscode.ViewColumn.Beside, preserveFocus };
    this.adopt(vscode.window.createWebviewPanel(panelType, 'Load Budget', where), document.uri);
  }

  /** Opens it at the drawing. */
  showDrawing(document: vscode.TextDocument): void {
    this.show(document, false);
    this.panel?.showDrawing();
  }

  /** After a restart of the server, whose figures may be newer. */
  refresh(): void {
    this.panel?.refresh();
  }

  private adopt(webviewPanel: vscode.WebviewPanel, uri: vscode.Uri): void {
    this.panel?.dispose();
    const panel = new BudgetPanel(webviewPanel, uri, this.services);
    this.panel = panel;
    webviewPanel.onDidDispose(() => {
      if (this.panel === panel) this.panel = undefined;
    });
  }
}

class BudgetPanel {
  private readonly page: Page<ToPage>;
  private locations: Readonly<Record<string, ProtocolLocation>> = {};
  private marked: string | null = null;
  private pinned = false;
  private isReady = false;
  private toShow: 'drawing' | undefined;

  constructor(
    private readonly panel: vscode.WebviewPanel,
    private uri: vscode.Uri,
    private readonly services: PanelServices,
  ) {
    const receive = (message: ToHost) => this.receive(message);
    this.page = openPage(panel, services, { name: 'panel', title: 'Load budget', workers: true, receive });
    this.setTitle();
  }

  show(uri: vscode.Uri, preserveFocus: boolean): void {
    this.panel.reveal(undefined, preserveFocus);
    this.turnTo(uri);
  }

  showDrawing(): void {
    this.toShow = 'drawing';
    this.showSection();
  }

  private showSection(): void {
    // A page that is still to come shows it when it listens.
    if (!this.isReady || this.toShow === undefined) return;
    this.page.send({ kind: 'show', section: this.toShow });
    this.toShow = undefined;
  }

  dispose(): void {
    this.panel.dispose();
  }

  follow(editor: vscode.TextEditor | undefined): void {
    if (!isRecord(editor)) return;
    if (!this.pinned) this.turnTo(editor.document.uri);
    this.mark(editor);
  }

  analysed(uri: string): void {
    if (isSameFile(uri, this.uri.toString())) this.refresh();
  }

  mark(editor: vscode.TextEditor): void {
    const name = this.partAtCursor(editor);
    if (name === this.marked) return;
    this.marked = name;
    this.page.send({ kind: 'marked', name });
  }

  refresh(): void {
    const uri = this.uri.toString();
    this.page.ask(
      this.services.server.request<BudgetAnswer>(BUDGET_REQUEST, { uri } satisfies BudgetParams),
      ({ budget, stale, findings, locations }) => {
        this.locations = locations;
        const editor = vscode.window.visibleTextEditors.find((each) => each.document.uri.toString() === uri);
        if (editor) this.marked = this.partAtCursor(editor);
        this.page.send({ kind: 'budget', uri, budget, stale, findings, marked: this.marked });
      },
      `No load budget for ${uri}`,
    );
  }

  private turnTo(uri: vscode.Uri): void {
    if (uri.toString() === this.uri.toString()) return;
    this.uri = uri;
    this.setTitle();
    this.refresh();
  }

  private setTitle(): void {
    this.panel.title = `Load Budget: ${this.uri.path.split('/').at(-1)}`;
  }

  private partAtCursor({ document, selection }: vscode.TextEditor): string | null {
    if (document.uri.toString() !== this.uri.toString()) return this.marked;
    if (!vscode.workspace.getConfiguration('ohmstead').get('budget.markCursor', true)) return null;
    const at = selection.active;
    const word = document.getWordRangeAtPosition(at, nameAtCursor);
    const lineText = (line: number) => document.lineAt(line).text;
    return partAt(this.locations, document.uri.toString(), at.line, word && document.getText(word), lineText);
  }

  private receive(message: ToHost): void {
    switch (message.kind) {
      case 'ready':
        this.isReady = true;
        this.pinned = message.pinned;
        this.refresh();
        this.showSection();
        return;
      case 'pin':
        this.pinned = message.pinned;
        if (!message.pinned) this.follow(vscode.window.activeTextEditor ?? vscode.window.visibleTextEditors[0]);
        return;
      case 'pictures':
        void this.sendPictures(message.uri, message.ask);
        return;
      case 'layout':
        void this.sendLayout();
        return;
      case 'reveal-range':
        this.reveal({ uri: message.uri, range: message.range });
        return;
      case 'reveal-part': {
        const location = Object.hasOwn(this.locations, message.name) ? this.locations[message.name] : undefined;
        if (location) this.reveal(location);
      }
    }
  }

  private async sendPictures(uri: string, ask: PicturesAsk): Promise<void> {
    let answer: PicturesAnswer | null = null;
    try {
      answer = await this.services.server.request<PicturesAnswer>(PICTURES_REQUEST, {
        uri,
        ...ask,
      } satisfies PicturesParams);
    } catch (problem) {
      this.services.log.error(`No pictures of ${uri}: ${problem}`);
    }
    this.page.send({ kind: 'pictures', uri, answer });
  }

  /** By message, since a page may start workers only from what it holds itself. */
  private async sendLayout(): Promise<void> {
    let script: string | null = null;
    try {
      const file = vscode.Uri.joinPath(this.services.extensionUri, 'dist', 'layout.js');
      script = new TextDecoder().decode(await vscode.workspace.fs.readFile(file));
    } catch (problem) {
      this.services.log.error(`No layout library: ${problem}`);
    }
    this.page.send({ kind: 'layout', script });
  }

  private reveal(location: ProtocolLocation): void {
    void showBeside(this.panel, location, this.services.log);
  }
}
