/** The connection to the language server: which documents it is told of, and the files that it asks for. */

import {
  type InitializationOptions,
  LIBRARY_SCHEME,
  LIST_FILES_REQUEST,
  type ListFilesAnswer,
  type ListFilesParams,
  READ_FILE_REQUEST,
  type ReadFileAnswer,
  type ReadFileParams,
} from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import { BaseLanguageClient, type InitializeParams, type MessageTransports } from 'vscode-languageclient';

/** Called for every start of the server, after a crash too. */
export type Connect = () => Promise<MessageTransports>;

class Client extends BaseLanguageClient {
  constructor(
    log: vscode.LogOutputChannel,
    private readonly connect: Connect,
    private readonly processId: number | null,
  ) {
    const says: InitializationOptions = { commands: ['ohmstead.showBudget', 'ohmstead.findFault'], files: true };
    super('ohmstead', 'Ohmstead', {
      documentSelector: schemes().map((scheme) => ({ language: 'ohmstead', scheme })),
      outputChannel: log,
      initializationOptions: says,
    });
  }

  protected override createMessageTransports(): Promise<MessageTransports> {
    return this.connect();
  }

  protected override fillInitializeParams(params: InitializeParams): void {
    super.fillInitializeParams(params);
    params.processId = this.processId;
  }
}

/** Starts nothing yet. The server ends with the process that is named, if any. */
export function makeClient(
  log: vscode.LogOutputChannel,
  connect: Connect,
  processId: number | null,
): BaseLanguageClient {
  const client = new Client(log, connect, processId);
  client.onRequest(READ_FILE_REQUEST, ({ uri }: ReadFileParams) => readFile(vscode.Uri.parse(uri)));
  client.onRequest(LIST_FILES_REQUEST, ({ folderUri }: ListFilesParams) => listFiles(folderUri));
  return client;
}

/** Whatever a workspace is kept in, and not the old texts that are shown in comparisons. */
function schemes(): string[] {
  const kept = (vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri.scheme);
  return [...new Set(['file', 'untitled', 'vscode-remote', 'vscode-vfs', LIBRARY_SCHEME, ...kept])];
}

/** What workspaces are kept in that the editor can search. In any other it waits for a search that nobody offers: each can be listed, though. */
const searched: ReadonlySet<string> = new Set(['file', 'vscode-remote', 'vscode-vfs']);

async function listFiles(folderUri: string): Promise<ListFilesAnswer> {
  const named = vscode.Uri.parse(folderUri);
  // The server leaves out a last slash, which is all that the path of a root has.
  const folder = named.path === '' ? named.with({ path: '/' }) : named;
  const uris = searched.has(folder.scheme) ? await findRecords(folder) : await listRecords(folder);
  return { uris: uris.map((uri) => uri.toString()) };
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
