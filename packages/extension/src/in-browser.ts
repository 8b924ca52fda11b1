/** In a browser the language server is a web worker. */

import * as vscode from 'vscode';
import { BrowserMessageReader, BrowserMessageWriter } from 'vscode-languageserver-protocol/browser';
import { makeClient } from './client.js';
import type { ServerHost } from './language-server.js';

export function workerHost(log: vscode.LogOutputChannel, extensionUri: vscode.Uri): ServerHost {
  const script = vscode.Uri.joinPath(extensionUri, 'dist', 'server.js').toString(true);
  let worker: Worker | undefined;
  // Made anew for each start, so that a restart leaves nothing of the worker before.
  const connect = async () => {
    worker?.terminate();
    worker = new Worker(script);
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
  };
  return {
    makeClient: async () => makeClient(log, connect, null),
    end: () => worker?.terminate(),
  };
}
