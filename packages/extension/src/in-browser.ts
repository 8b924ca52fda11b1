/** In a browser the language server is a web worker. */

import * as vscode from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { start } from './activate.js';

export function activate(context: vscode.ExtensionContext): void {
  start(context, (options, extensionUri) => {
    const script = vscode.Uri.joinPath(extensionUri, 'dist', 'server.js');
    let worker: Worker | undefined;
    // Made anew for each start, so that a restart leaves nothing of the worker before.
    const server = async (): Promise<Worker> => {
      worker?.terminate();
      worker = new Worker(script.toString(true));
      return worker;
    };
    return new LanguageClient('ohmstead', 'Ohmstead', server, options);
  });
}
