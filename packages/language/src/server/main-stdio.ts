/** The language server over standard input and output, for any editor: `ohmstead serve`. */

import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { nodeFiles } from './node-files.js';
import { startServer } from './server.js';

/** Serves until the client says `exit` or its end of the pipe closes. */
export function serve(): void {
  startServer(createConnection(ProposedFeatures.all, process.stdin, process.stdout), { files: nodeFiles });
}
