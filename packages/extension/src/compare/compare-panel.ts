/** Two records side by side in a panel: asks the server, sends its answer to the page, and shows what is clicked. */

import * as vscode from 'vscode';
import { isSameFile, openPage, type Page, type PanelServices, showBeside } from '../panel/webview.js';
import { askToCompare, nameOf } from './ask.js';
import { onCommit } from './last-commit.js';
import type { ComparedPair, KeptComparison, ToCompareHost, ToComparePage } from './messages.js';

export const comparePanelType = 'ohmstead.comparison';

/** Edits come in bursts, and each redraws the whole comparison. */
const REST_MILLISECONDS = 200;

export class ComparePanels {
  private readonly panels = new Set<ComparePanel>();

  constructor(private readonly services: PanelServices) {}

  register(): vscode.Disposable {
    return vscode.Disposable.from(
      this.services.server.onAnalysed(({ uri }) => {
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
    const panel = new ComparePanel(webviewPanel, { uri, against }, this.services);
    this.panels.add(panel);
    webviewPanel.onDidDispose(() => {
      panel.closed();
      this.panels.delete(panel);
    });
  }
}

class ComparePanel {
  private readonly page: Page<ToComparePage>;
  private readonly commits: vscode.Disposable;
  private rest: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly panel: vscode.WebviewPanel,
    private readonly pair: ComparedPair,
    private readonly services: PanelServices,
  ) {
    const receive = (message: ToCompareHost) => {
      if (message.kind === 'ready') this.refresh();
      else void showBeside(panel, message.location, services.log);
    };
    this.page = openPage(panel, services, { name: 'compare', title: 'Comparison', receive });
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
    const { pair, page } = this;
    page.ask(
      askToCompare(this.services.server, pair),
      (answer) => {
        if ('refused' in answer) page.send({ kind: 'refused', pair, message: answer.refused });
        else {
          const labels = { before: answer.before, after: nameOf(pair.uri) };
          page.send({ kind: 'compared', pair, compared: answer.compared, labels });
        }
      },
      `${pair.uri} could not be compared`,
    );
  }
}
