/** Two records side by side in a panel: asks the server, sends its answer to the page, and shows what is clicked. */

import type { ProtocolLocation } from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { onAnalysed } from '../analysed.js';
import { panelShell } from '../panel/shell.js';
import { askToCompare, nameOf } from './ask.js';
import { onCommit } from './last-commit.js';
import type { ComparedPair, KeptComparison, ToCompareHost, ToComparePage } from './messages.js';

export const comparePanelType = 'ohmstead.comparison';

/** Edits come in bursts, and each redraws the whole comparison. */
const REST_MILLISECONDS = 200;

export class ComparePanels {
  private readonly panels = new Set<ComparePanel>();

  constructor(
    private readonly client: BaseLanguageClient,
    private readonly extensionUri: vscode.Uri,
    private readonly log: vscode.LogOutputChannel,
  ) {}

  register(): vscode.Disposable {
    return vscode.Disposable.from(
      onAnalysed(this.client, ({ uri }) => {
        for (const panel of this.panels) panel.analysed(uri);
      }),
      vscode.window.registerWebviewPanelSerializer(comparePanelType, {
        deserializeWebviewPanel: async (panel, kept: KeptComparison | undefined) => {
          if (kept?.uri && kept.against) this.adopt(panel, kept);
          else panel.dispose();
        },
      }),
      new vscode.Disposable(() => {
        for (const panel of this.panels) panel.dispose();
      }),
    );
  }

  show(pair: ComparedPair): void {
    const open = [...this.panels].find((panel) => panel.shows(pair));
    if (open) open.reveal();
    else {
      const title = `Compare: ${nameOf(pair.uri).split('/').at(-1)}`;
      this.adopt(vscode.window.createWebviewPanel(comparePanelType, title, vscode.ViewColumn.Beside), pair);
    }
  }

  private adopt(webviewPanel: vscode.WebviewPanel, { uri, against }: ComparedPair): void {
    const panel = new ComparePanel(webviewPanel, { uri, against }, this.client, this.extensionUri, this.log);
    this.panels.add(panel);
    webviewPanel.onDidDispose(() => {
      panel.closed();
      this.panels.delete(panel);
    });
  }
}

class ComparePanel {
  private asked = 0;
  private rest: ReturnType<typeof setTimeout> | undefined;
  private readonly commits: vscode.Disposable;

  constructor(
    private readonly panel: vscode.WebviewPanel,
    private readonly pair: ComparedPair,
    private readonly client: BaseLanguageClient,
    extensionUri: vscode.Uri,
    private readonly log: vscode.LogOutputChannel,
  ) {
    const dist = vscode.Uri.joinPath(extensionUri, 'dist');
    const { webview } = panel;
    panel.iconPath = vscode.Uri.joinPath(extensionUri, 'media', 'record.svg');
    webview.options = { enableScripts: true, localResourceRoots: [dist] };
    webview.onDidReceiveMessage((message: ToCompareHost) => {
      if (message.kind === 'ready') this.refresh();
      else void this.show(message.location);
    });
    webview.html = panelShell({
      source: webview.cspSource,
      style: webview.asWebviewUri(vscode.Uri.joinPath(dist, 'compare.css')).toString(),
      script: webview.asWebviewUri(vscode.Uri.joinPath(dist, 'compare.js')).toString(),
      nonce: crypto.randomUUID(),
      title: 'Comparison',
    });
    this.commits = onCommit(vscode.Uri.parse(pair.uri), () => this.soon());
  }

  shows({ uri, against }: ComparedPair): boolean {
    return uri === this.pair.uri && JSON.stringify(against) === JSON.stringify(this.pair.against);
  }

  reveal(): void {
    this.panel.reveal();
    this.refresh();
  }

  dispose(): void {
    this.panel.dispose();
  }

  closed(): void {
    clearTimeout(this.rest);
    this.commits.dispose();
  }

  /** A record was gone through anew: either of the two may be it, or may have it underneath. */
  analysed(uri: string): void {
    const { against } = this.pair;
    const other = against.kind === 'record' ? [against.uri] : [];
    const isOurs = [this.pair.uri, ...other].some((one) => isSameFile(one, uri));
    if (isOurs || against.kind === 'base') this.soon();
  }

  private soon(): void {
    clearTimeout(this.rest);
    this.rest = setTimeout(() => this.refresh(), REST_MILLISECONDS);
  }

  private refresh(): void {
    const asked = ++this.asked;
    const { pair } = this;
    askToCompare(this.client, pair).then(
      (answer) => {
        // Answers that a later question has overtaken are dropped.
        if (asked !== this.asked) return;
        if ('refused' in answer) this.send({ kind: 'refused', pair, message: answer.refused });
        else {
          const labels = { before: answer.before, after: nameOf(pair.uri) };
          this.send({ kind: 'compared', pair, compared: answer.compared, labels });
        }
      },
      (problem: unknown) => this.log.error(`${pair.uri} could not be compared: ${problem}`),
    );
  }

  private send(message: ToComparePage): void {
    void this.panel.webview.postMessage(message);
  }

  private async show({ uri, range: { start, end } }: ProtocolLocation): Promise<void> {
    const open = vscode.window.visibleTextEditors.find((each) => isSameFile(each.document.uri.toString(), uri));
    const beside = this.panel.viewColumn === vscode.ViewColumn.One ? vscode.ViewColumn.Two : vscode.ViewColumn.One;
    try {
      await vscode.window.showTextDocument(vscode.Uri.parse(uri), {
        viewColumn: open?.viewColumn ?? beside,
        selection: new vscode.Range(start.line, start.character, end.line, end.character),
      });
    } catch (problem) {
      this.log.warn(`Could not show ${uri}: ${problem}`);
    }
  }
}

function isSameFile(one: string, other: string): boolean {
  return vscode.Uri.parse(one).toString() === vscode.Uri.parse(other).toString();
}
