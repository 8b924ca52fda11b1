/** The command of the fault finder. */

import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { isRecord } from '../records.js';
import { ExplainPanels } from './explain-panel.js';

export function registerFaultFinder(
  client: BaseLanguageClient,
  extensionUri: vscode.Uri,
  log: vscode.LogOutputChannel,
): vscode.Disposable {
  const panels = new ExplainPanels(client, extensionUri, log);
  return vscode.Disposable.from(
    panels.register(),
    // A code lens gives the record's address; the palette gives none.
    vscode.commands.registerCommand('ohmstead.findFault', (given?: unknown) => {
      const active = vscode.window.activeTextEditor;
      const editor = isRecord(active) ? active : vscode.window.visibleTextEditors.find(isRecord);
      const uri = typeof given === 'string' ? vscode.Uri.parse(given) : editor?.document.uri;
      if (uri) panels.show(uri);
      else void vscode.window.showInformationMessage('Open a .wiring record first: the fault finder opens beside it.');
    }),
  );
}
