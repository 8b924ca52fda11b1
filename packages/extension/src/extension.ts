/** The extension on a desktop, where the language server is a child process. This script is small; the client's is loaded after activation. */

import { createRequire } from 'node:module';
import * as vscode from 'vscode';
import { start } from './activate.js';
import { ServerProcess } from './server-process.js';

export { stop as deactivate } from './activate.js';

export function activate(context: vscode.ExtensionContext): void {
  start(context, (log) => {
    const script = vscode.Uri.joinPath(context.extensionUri, 'dist', 'start-server.js').fsPath;
    const server = new ServerProcess(script, log);
    return {
      makeClient: async () => {
        server.begin();
        const { connectToProcess } = createRequire(__filename)('./client.js') as typeof import('./client-script.js');
        return await connectToProcess(log, () => server.take());
      },
      end: () => server.end(),
    };
  });
}
