/**
 * The script with the language client. On a desktop the extension loads it once it is activated. In a browser, where an extension is one
 * script, it is all of the extension, and the client's part is run once it is activated.
 */

import type { ChildProcess } from 'node:child_process';
import type * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { start } from './activate.js';
import type { ServerHost } from './language-server.js';

export { stop as deactivate } from './activate.js';

export function activate(context: vscode.ExtensionContext): void {
  start(context, (log) => {
    let host: ServerHost | undefined;
    return {
      makeClient: async () => {
        // Only the one that is asked for is run: the other's way to a language server is not there.
        host ??= (await import('./in-browser.js')).workerHost(log, context.extensionUri);
        return host.makeClient();
      },
      end: () => host?.end(),
    };
  });
}

export async function connectToProcess(
  log: vscode.LogOutputChannel,
  take: () => ChildProcess,
): Promise<BaseLanguageClient> {
  const { clientOfProcess } = await import('./on-desktop.js');
  return clientOfProcess(log, take);
}
