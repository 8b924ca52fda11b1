/** On a desktop the language server is a child process. */

import * as vscode from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { start } from './activate.js';

/** In megabytes: what a keystroke in a long record makes is let go of before it would be kept, which takes a sixth of its time. */
const ROOM_FOR_NEW = '--max-semi-space-size=32';

export function activate(context: vscode.ExtensionContext): void {
  start(context, (options, extensionUri) => {
    const server = {
      module: vscode.Uri.joinPath(extensionUri, 'dist', 'start-server.js').fsPath,
      transport: TransportKind.ipc,
      options: { execArgv: [ROOM_FOR_NEW] },
    };
    const debug = { ...server, options: { execArgv: [ROOM_FOR_NEW, '--nolazy', '--inspect=6009'] } };
    return new LanguageClient('ohmstead', 'Ohmstead', { run: server, debug }, options);
  });
}
