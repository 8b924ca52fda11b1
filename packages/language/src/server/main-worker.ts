/** The language server in a web worker, for editors that run in a browser. */

import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { startServer } from './server.js';

const scope = self as unknown as DedicatedWorkerGlobalScope;
startServer(createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope)));
