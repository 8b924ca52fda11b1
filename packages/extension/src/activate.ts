/** What the extension does, wherever its server runs. */

import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { clientOptions, type MakeClient, registerFiles, registerLibraryDocuments } from './client.js';
import { registerComparing } from './compare/commands.js';
import { registerFaultFinder } from './explain-panel/commands.js';
import { newRecord, openSample } from './new-record.js';
import { newType } from './new-type.js';
import { BudgetPanels } from './panel/budget-panel.js';
import { Papers, recordInView } from './panel/papers.js';
import { isRecord } from './records.js';

let client: BaseLanguageClient | undefined;

export function start(context: vscode.ExtensionContext, make: MakeClient): void {
  const log = vscode.window.createOutputChannel('Ohmstead', { log: true });
  const started = make(clientOptions(log), context.extensionUri);
  client = started;
  const panels = new BudgetPanels(started, context.extensionUri, log);
  const papers = new Papers(started, context.extensionUri);

  context.subscriptions.push(
    log,
    panels.register(),
    registerComparing(started, context.extensionUri, log),
    registerFaultFinder(started, context.extensionUri, log),
    registerLibraryDocuments(started),
    registerFiles(started),
    vscode.commands.registerCommand('ohmstead.showBudget', () => showBudget(panels)),
    vscode.commands.registerCommand('ohmstead.showDrawing', () => {
      const record = recordInView();
      if (record) panels.showDrawing(record);
    }),
    vscode.commands.registerCommand('ohmstead.showPapers', () => papers.show()),
    vscode.commands.registerCommand('ohmstead.savePapers', () => papers.save()),
    vscode.commands.registerCommand('ohmstead.newRecord', newRecord),
    vscode.commands.registerCommand('ohmstead.newType', newType),
    vscode.commands.registerCommand('ohmstead.openSample', openSample),
    vscode.commands.registerCommand('ohmstead.restartServer', async () => {
      if (started.needsStop()) await started.stop();
      await started.start();
      panels.refresh();
    }),
    vscode.commands.registerCommand('ohmstead.showLog', () => log.show()),
    vscode.window.onDidChangeActiveTextEditor((editor) => openWithRecord(editor, panels)),
  );

  openWithRecord(vscode.window.activeTextEditor, panels);
  // The editor waits for activation and need not wait for the server: what is asked of it meanwhile waits with the client.
  setTimeout(() => {
    started.start().catch((problem: unknown) => log.error(`The language server did not start: ${problem}`));
  });
}

export async function stop(): Promise<void> {
  if (client?.needsStop()) await client.stop();
}

function showBudget(panels: BudgetPanels): void {
  const active = vscode.window.activeTextEditor;
  const editor = isRecord(active) ? active : vscode.window.visibleTextEditors.find(isRecord);
  if (editor) panels.show(editor.document, false);
  else void vscode.window.showInformationMessage('Open a .wiring record first: its load budget opens beside it.');
}

function openWithRecord(editor: vscode.TextEditor | undefined, panels: BudgetPanels): void {
  if (!isRecord(editor)) return;
  if (vscode.workspace.getConfiguration('ohmstead').get('budget.openWithRecord', false))
    panels.show(editor.document, true);
}
