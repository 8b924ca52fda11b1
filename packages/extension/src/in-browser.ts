/** In a browser the language server is a web worker. */

import * as vscode from 'vscode';
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  LanguageClient,
  type MessageTransports,
} from 'vscode-languageclient/browser';
import { start } from './activate.js';

export function activate(context: vscode.ExtensionContext): void {
  start(context, (options, extensionUri) => {
    const script = vscode.Uri.joinPath(extensionUri, 'dist', 'server.js');
    let worker: Worker | undefined;
    // Made anew for each start, so that a restart leaves nothing of the worker before.
    const server = async (): Promise<MessageTransports> => {
      worker?.terminate();
      worker = new Worker(script.toString(true));
      // Not the worker itself: the client does not know the editor's own kind of worker as one.
      return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
    };
    return new LanguageClient('ohmstead', 'Ohmstead', server, options);
  });
}
