/** What desktop and browser have in common of the connection to the language server: the shipped documents, the files it asks for. */

import {
  type InitializationOptions,
  LIBRARY_DOCUMENT_REQUEST,
  LIBRARY_SCHEME,
  type LibraryDocumentAnswer,
  type LibraryDocumentParams,
  LIST_FILES_REQUEST,
  type ListFilesAnswer,
  type ListFilesParams,
  READ_FILE_REQUEST,
  type ReadFileAnswer,
  type ReadFileParams,
} from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';

/** Starts nothing yet: desktop and browser differ in how the server runs. */
export type MakeClient = (options: LanguageClientOptions, extensionUri: vscode.Uri) => BaseLanguageClient;

export function clientOptions(log: vscode.LogOutputChannel): LanguageClientOptions {
  const says: InitializationOptions = { commands: ['ohmstead.showBudget', 'ohmstead.findFault'], files: true };
  // Whatever a workspace is kept in, and not the old texts that are shown in comparisons.
  const kept = (vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri.scheme);
  const schemes = new Set(['file', 'untitled', 'vscode-remote', 'vscode-vfs', LIBRARY_SCHEME, ...kept]);
  return {
    documentSelector: [...schemes].map((scheme) => ({ language: 'ohmstead', scheme })),
    outputChannel: log,
    initializationOptions: says,
  };
}

/** Read-only documents of the shipped library, for Go to Definition and the pages of the checks. */
export function registerLibraryDocuments(client: BaseLanguageClient): vscode.Disposable {
  return vscode.workspace.registerTextDocumentContentProvider(LIBRARY_SCHEME, {
    async provideTextDocumentContent(uri) {
      const params: LibraryDocumentParams = { uri: uri.toString() };
      const { text } = await client.sendRequest<LibraryDocumentAnswer>(LIBRARY_DOCUMENT_REQUEST, params);
      return text ?? undefined;
    },
  });
}

/** What workspaces are kept in that the editor can search. In any other it waits for a search that nobody offers: each can be listed, though. */
const searched: ReadonlySet<string> = new Set(['file', 'vscode-remote', 'vscode-vfs']);

/** Answers the server's requests for files. */
export function registerFiles(client: BaseLanguageClient): vscode.Disposable {
  return vscode.Disposable.from(
    client.onRequest(READ_FILE_REQUEST, ({ uri }: ReadFileParams) => readFile(vscode.Uri.parse(uri))),
    client.onRequest(LIST_FILES_REQUEST, async ({ folderUri }: ListFilesParams): Promise<ListFilesAnswer> => {
      const named = vscode.Uri.parse(folderUri);
      // The server leaves out a last slash, which is all that the path of a root has.
      const folder = named.path === '' ? named.with({ path: '/' }) : named;
      const uris = searched.has(folder.scheme) ? await findRecords(folder) : await listRecords(folder);
      return { uris: uris.map((uri) => uri.toString()) };
    }),
  );
}

function findRecords(folder: vscode.Uri): Thenable<vscode.Uri[]> {
  const pattern = new vscode.RelativePattern(folder, '**/*.wiring');
  return vscode.workspace.findFiles(pattern, '**/{node_modules,dist,out,.*}/**');
}

async function listRecords(folder: vscode.Uri): Promise<vscode.Uri[]> {
  const entries = await Promise.resolve(vscode.workspace.fs.readDirectory(folder)).catch(() => []);
  const below = entries.map(([name, type]): vscode.Uri[] | Promise<vscode.Uri[]> => {
    const uri = vscode.Uri.joinPath(folder, name);
    if (type === vscode.FileType.Directory) return /^(node_modules|dist|out|\..*)$/.test(name) ? [] : listRecords(uri);
    return name.endsWith('.wiring') ? [uri] : [];
  });
  return (await Promise.all(below)).flat();
}

async function readFile(uri: vscode.Uri): Promise<ReadFileAnswer> {
  try {
    const bytes = await vscode.workspace.fs.readFile(uri);
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { text: null };
  }
}
