import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';

/** Over the messages of a worker; files are asked of the editor. */
export function connect() {
  const scope = self as unknown as DedicatedWorkerGlobalScope;
  return {
    connection: createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope)),
    files: undefined,
  };
}
