/** On a desktop the language server is a child process. */

import * as vscode from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { start } from './activate.js';

export function activate(context: vscode.ExtensionContext): void {
  start(context, (options, extensionUri) => {
    const server = {
      module: vscode.Uri.joinPath(extensionUri, 'dist', 'start-server.js').fsPath,
      transport: TransportKind.ipc,
    };
    const debug = { ...server, options: { execArgv: ['--nolazy', '--inspect=6009'] } };
    return new LanguageClient('ohmstead', 'Ohmstead', { run: server, debug }, options);
  });
}
