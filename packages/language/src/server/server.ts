/** The language server: what the protocol asks, answered by the services. It knows neither transport nor disk. */

import {
  type ClientCapabilities,
  type Connection,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  TextDocuments,
  WatchKind,
} from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import {
  ANALYSED_NOTIFICATION,
  type AnalysedParams,
  type InitializationOptions,
  LIST_FILES_REQUEST,
  type ListFilesAnswer,
  type ListFilesParams,
  READ_FILE_REQUEST,
  type ReadFileAnswer,
  type ReadFileParams,
} from '../protocol.js';
import { INITIALIZE_RESULT } from './capabilities.js';
import { ClientFiles, filesOf } from './client-files.js';
import { CheckQueue } from './check-queue.js';
import type { Files } from './files.js';
import { diagnosticOf } from './findings.js';
import { answerRequests } from './requests.js';
import type { LocatedFinding } from '../pipeline.js';
import { type Asked, showWarning } from './asked.js';
import { isShipped, keyOf, Records, warmUp } from './records.js';
import { WORKSPACE_FILE } from '../workspace-file.js';
import { WorkspaceLevels } from './workspace-levels.js';
import { DEFAULT_SETTINGS, readSettings, type Settings } from './settings.js';

export interface Host {
  /** Of the machine that the server runs on, for URIs of the scheme `file`; all others are asked of the editor. */
  readonly files?: Files;
  /** Answers requests of its own, beside those of the protocol. */
  answer?(asked: Asked): void;
}

export type { CheckedRecord } from '../pipeline.js';
export type { Asked } from './asked.js';

/** Answers on a connection until it ends. */
export function startServer(connection: Connection, host: Host = {}): void {
  const documents = new TextDocuments(TextDocument);
  let givesFiles = false;
  const editorsFiles = new ClientFiles({
    async read(uri) {
      const { text } = givesFiles
        ? await connection.sendRequest<ReadFileAnswer>(READ_FILE_REQUEST, { uri } satisfies ReadFileParams)
        : { text: null };
      return text;
    },
    async list(folderUri) {
      const { uris } = givesFiles
        ? await connection.sendRequest<ListFilesAnswer>(LIST_FILES_REQUEST, { folderUri } satisfies ListFilesParams)
        : { uris: [] };
      return uris.map(keyOf);
    },
    arrived(uri) {
      records.arrived(uri);
      queue.add(concernedBy([uri]));
    },
  });
  const files = filesOf(host.files, (uri) => uri.startsWith('file:'), editorsFiles);
  const levels = new WorkspaceLevels(files, (problem) => showWarning(connection, problem));
  const records = new Records(files, levels);
  /** The editor's spelling of the URI of an open document. */
  const uriFor = (uri: string): string => records.openDocument(uri)?.uri ?? uri;

  /** Open records that some file has something to do with; the settings of a workspace have with all. */
  const concernedBy = (uris: readonly string[]): string[] => {
    if (!uris.some((uri) => uri.endsWith(`/${WORKSPACE_FILE}`))) return records.concernedBy(uris);
    levels.forget();
    return records.openUris();
  };
  const guarded =
    <Answer>(step: (key: string) => Answer) =>
    (key: string): Answer | undefined => {
      try {
        return step(key);
      } catch (error) {
        connection.console.error(`${key} could not be checked: ${error instanceof Error ? error.stack : error}`);
        return undefined;
      }
    };
  const read = guarded((key) => records.reading(key));
  const check = guarded((key) => records.check(key)?.record.findings);
  /** What the editor has been told of each open record. */
  const published = new Map<string, { readonly version: number; readonly findings: readonly LocatedFinding[] }>();
  const publish = (key: string): void => {
    const document = records.openDocument(key);
    // Before all of its files are there, nothing that is said of a record would last.
    if (records.awaitsFiles(key)) return;
    // Where the checks fail, what was found in reading is still true.
    const findings = check(key) ?? read(key)?.findings;
    if (!document || !findings) return;
    const { uri, version } = document;
    const known = published.get(key);
    // A file that is saved changes on the disk without a change of its record.
    if (known?.version === version && known.findings === findings) return;
    published.set(key, { version, findings });
    const diagnostics = findings.map((finding) => diagnosticOf(finding, uriFor));
    connection.sendDiagnostics({ uri, version, diagnostics });
    connection.sendNotification(ANALYSED_NOTIFICATION, { uri, version } satisfies AnalysedParams);
  };
  const queue = new CheckQueue({ read, check: publish });

  const settings: Settings = { ...DEFAULT_SETTINGS };
  let client: ClientCapabilities = {};
  let folders: readonly string[] = [];
  const setFolders = (uris: readonly string[]): void => {
    folders = uris;
    records.setFolders(uris);
  };
  const followSettings = async (): Promise<void> => {
    const { workspace } = client;
    if (workspace?.configuration !== true) return;
    const changed = await readSettings(connection, settings).catch(warn('Settings are not known'));
    if (!changed) return;
    levels.set(settings.levels);
    queue.add(records.openUris());
    if (workspace.inlayHint?.refreshSupport) connection.languages.inlayHint.refresh();
  };
  const warn =
    (what: string) =>
    (error: unknown): undefined => {
      connection.console.warn(`${what}: ${error}`);
    };
  connection.onInitialize(({ capabilities, workspaceFolders, rootUri, initializationOptions }) => {
    client = capabilities;
    setFolders(workspaceFolders?.map((folder) => folder.uri) ?? (rootUri ? [rootUri] : []));
    const { commands, files } = (initializationOptions ?? {}) as InitializationOptions;
    givesFiles = files === true;
    const snippets = capabilities.textDocument?.completion?.completionItem?.snippetSupport === true;
    const ways = { snippets, commands: new Set(commands ?? []), uriFor };
    const asked: Asked = { connection, records, settings, ways };
    answerRequests(asked);
    host.answer?.(asked);
    return INITIALIZE_RESULT;
  });
  connection.onInitialized(() => {
    // The first record to be opened finds the library read and the parser built.
    setTimeout(warmUp, 0);
    if (client.workspace?.workspaceFolders) {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        const gone = new Set(removed.map(({ uri }) => uri));
        setFolders([...folders.filter((uri) => !gone.has(uri)), ...added.map(({ uri }) => uri)]);
        queue.add(records.openUris());
      });
    }
    void followSettings();
    if (client.workspace?.didChangeConfiguration?.dynamicRegistration) {
      const section = { section: 'ohmstead' };
      connection.client
        .register(DidChangeConfigurationNotification.type, section)
        .catch(warn('Settings are not followed'));
    }
    if (client.workspace?.didChangeWatchedFiles?.dynamicRegistration) {
      const watchers = [
        { globPattern: '**/*.wiring' },
        { globPattern: `**/${WORKSPACE_FILE}` },
        // Of a folder that goes or comes back nothing is said of its files, and no pattern tells folders from files.
        { globPattern: '**/*', kind: WatchKind.Create | WatchKind.Delete },
      ];
      connection.client
        .register(DidChangeWatchedFilesNotification.type, { watchers })
        .catch(warn('Files are not watched'));
    }
  });
  connection.onDidChangeConfiguration(followSettings);

  documents.onDidChangeContent(({ document }) => {
    records.opened(document);
    if (!isShipped(document.uri)) queue.add(records.concernedBy([document.uri]));
  });
  documents.onDidClose(({ document }) => {
    const key = keyOf(document.uri);
    const others = records.concernedBy([key]).filter((open) => open !== key);
    records.closed(key);
    queue.drop(key);
    published.delete(key);
    connection.sendDiagnostics({ uri: document.uri, diagnostics: [] });
    queue.add(others);
  });
  connection.onDidChangeWatchedFiles(({ changes }) => {
    const uris = changes.map(({ uri }) => uri);
    records.changedOnDisk(uris);
    queue.add(concernedBy(uris));
  });

  documents.listen(connection);
  connection.listen();
}
