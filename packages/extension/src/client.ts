/** The connection to the bundled language server, and the shipped library's documents that it serves. */

import {
  LIBRARY_DOCUMENT_REQUEST,
  LIBRARY_SCHEME,
  type LibraryDocumentAnswer,
  type LibraryDocumentParams,
} from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';

export function createClient(extensionUri: vscode.Uri, log: vscode.LogOutputChannel): LanguageClient {
  const server = {
    module: vscode.Uri.joinPath(extensionUri, 'dist', 'server.cjs').fsPath,
    transport: TransportKind.ipc,
  };
  const debug = { ...server, options: { execArgv: ['--nolazy', '--inspect=6009'] } };
  return new LanguageClient(
    'ohmstead',
    'Ohmstead',
    { run: server, debug },
    {
      documentSelector: [
        { language: 'ohmstead', scheme: 'file' },
        { language: 'ohmstead', scheme: 'untitled' },
        { language: 'ohmstead', scheme: 'vscode-remote' },
        { language: 'ohmstead', scheme: LIBRARY_SCHEME },
      ],
      outputChannel: log,
    },
  );
}

/** Read-only documents of the shipped library, for Go to Definition and the pages of the checks. */
export function registerLibraryDocuments(client: LanguageClient): vscode.Disposable {
  return vscode.workspace.registerTextDocumentContentProvider(LIBRARY_SCHEME, {
    async provideTextDocumentContent(uri) {
      const params: LibraryDocumentParams = { uri: uri.toString() };
      const { text } = await client.sendRequest<LibraryDocumentAnswer>(LIBRARY_DOCUMENT_REQUEST, params);
      return text ?? undefined;
    },
  });
}
