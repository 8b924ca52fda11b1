/** What the server can do, as the protocol has it said. */

import type { InitializeResult, ServerCapabilities, TextDocumentSyncKind } from 'vscode-languageserver';
import { SEMANTIC_LEGEND } from '../services/semantic-legend.js';

/** By the number, so that nothing need be loaded for it. */
const INCREMENTAL: typeof TextDocumentSyncKind.Incremental = 2;

/** Files whose renaming concerns imports; a folder takes its files along. */
const RENAMED = {
  filters: [
    { pattern: { glob: '**/*.wiring', matches: 'file' as const } },
    { pattern: { glob: '**/*', matches: 'folder' as const } },
  ],
};

const CAPABILITIES: ServerCapabilities = {
  textDocumentSync: { openClose: true, change: INCREMENTAL },
  completionProvider: { triggerCharacters: [':', '.', ' '] },
  signatureHelpProvider: { triggerCharacters: ['{', ','] },
  hoverProvider: true,
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  callHierarchyProvider: true,
  documentSymbolProvider: true,
  workspaceSymbolProvider: true,
  documentLinkProvider: {},
  codeActionProvider: { codeActionKinds: ['quickfix'] },
  codeLensProvider: { resolveProvider: true },
  inlayHintProvider: true,
  semanticTokensProvider: { legend: SEMANTIC_LEGEND, full: { delta: true }, range: true },
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '}', moreTriggerCharacter: ['\n'] },
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  workspace: {
    workspaceFolders: { supported: true, changeNotifications: true },
    fileOperations: { willRename: RENAMED },
  },
};

/** The same for every client. */
export const INITIALIZE_RESULT: InitializeResult = { serverInfo: { name: 'ohmstead' }, capabilities: CAPABILITIES };
