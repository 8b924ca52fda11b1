/** The language server as an editor's child process, over Node's own channel between processes. */

import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { nodeFiles } from './node-files.js';
import { startServer } from './server.js';

startServer(createConnection(ProposedFeatures.all), { files: nodeFiles });
