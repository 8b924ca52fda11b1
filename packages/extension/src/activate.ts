/** What the extension does, wherever its server runs. */

import * as vscode from 'vscode';
import { registerComparing } from './compare/commands.js';
import { registerFaultFinder } from './explain-panel/commands.js';
import { LanguageServer, type ServerHost } from './language-server.js';
import { registerLibraryDocuments } from './library-documents.js';
import { newRecord, openSample } from './new-record.js';
import { newType } from './new-type.js';
import { BudgetPanels } from './panel/budget-panel.js';
import { Papers, recordInView } from './panel/papers.js';
import { isRecord } from './records.js';

let running: LanguageServer | undefined;

export function start(context: vscode.ExtensionContext, host: (log: vscode.LogOutputChannel) => ServerHost): void {
  const { extensionUri } = context;
  const log = vscode.window.createOutputChannel('Ohmstead', { log: true });
  const server = new LanguageServer(host(log));
  running = server;
  const services = { server, extensionUri, log };
  const panels = new BudgetPanels(services);
  const papers = new Papers(server, extensionUri);

  context.subscriptions.push(
    log,
    panels.register(),
    registerComparing(services),
    registerFaultFinder(services),
    registerLibraryDocuments(server),
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
      await server.restart();
      panels.refresh();
    }),
    vscode.commands.registerCommand('ohmstead.showLog', () => log.show()),
    vscode.window.onDidChangeActiveTextEditor((editor) => openWithRecord(editor, panels)),
  );

  openWithRecord(vscode.window.activeTextEditor, panels);
  // The editor waits for activation, and need wait neither for the client's code nor for the server.
  const starting = setTimeout(() => {
    server.start().catch((problem: unknown) => log.error(`The language server did not start: ${problem}`));
  });
  context.subscriptions.push(new vscode.Disposable(() => clearTimeout(starting)));
}

export async function stop(): Promise<void> {
  await running?.stop();
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
