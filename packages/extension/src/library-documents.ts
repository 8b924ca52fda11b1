/** Read-only documents of the shipped library, for Go to Definition and the pages of the checks. */

import {
  LIBRARY_DOCUMENT_REQUEST,
  LIBRARY_SCHEME,
  type LibraryDocumentAnswer,
  type LibraryDocumentParams,
} from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { LanguageServer } from './language-server.js';

export function registerLibraryDocuments(server: LanguageServer): vscode.Disposable {
  return vscode.workspace.registerTextDocumentContentProvider(LIBRARY_SCHEME, {
    async provideTextDocumentContent(uri) {
      const params: LibraryDocumentParams = { uri: uri.toString() };
      const { text } = await server.request<LibraryDocumentAnswer>(LIBRARY_DOCUMENT_REQUEST, params);
      return text ?? undefined;
    },
  });
}
