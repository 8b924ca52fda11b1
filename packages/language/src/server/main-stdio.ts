/** The language server over standard input and output, for any editor: `ohmstead serve`. */

import {
  createConnection,
  ProposedFeatures,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { nodeFiles } from './node-files.js';
import { startServer } from './server.js';

/** Serves until the client ends the connection or says `exit`. */
export function serve(): void {
  const reader = new StreamMessageReader(process.stdin);
  const writer = new StreamMessageWriter(process.stdout);
  startServer(createConnection(ProposedFeatures.all, reader, writer), { files: nodeFiles });
}
