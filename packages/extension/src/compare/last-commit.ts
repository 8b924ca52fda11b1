/** Files as they were at the last commit, through VS Code's own git extension where there is one. */

import * as vscode from 'vscode';

/** What is used of the API that the extension `vscode.git` gives in its version 1. */
interface GitApi {
  getRepository(uri: vscode.Uri): GitRepository | null;
}

interface GitRepository {
  readonly rootUri: vscode.Uri;
  readonly state: { readonly HEAD?: { readonly name?: string; readonly commit?: string } };
  /** Fails where there was no such file. */
  show(ref: string, path: string): Promise<string>;
}

interface GitExtension {
  readonly enabled: boolean;
  getAPI(version: 1): GitApi;
}

export interface LastCommit {
  /** "main, 1a2b3c4d". */
  readonly label: string;
  /** Null where there was no such file. */
  textOf(uri: vscode.Uri): Promise<string | null>;
}

/** Of the repository that a file is in; undefined where it is in none, or where nothing was committed yet. */
export async function lastCommitOf(uri: vscode.Uri): Promise<LastCommit | undefined> {
  const extension = vscode.extensions.getExtension<GitExtension>('vscode.git');
  if (!extension || uri.scheme === 'untitled') return undefined;
  const git = await extension.activate();
  const repository = git.enabled ? git.getAPI(1).getRepository(uri) : null;
  const { name, commit } = repository?.state.HEAD ?? {};
  if (!repository || commit === undefined) return undefined;
  return {
    label: [name, commit.slice(0, 8)].filter((one) => one !== undefined).join(', '),
    async textOf(file) {
      try {
        return await repository.show(commit, file.fsPath);
      } catch {
        return null;
      }
    },
  };
}

/** Calls back when the repository of a file has another last commit, until it is disposed. */
export function onCommit(uri: vscode.Uri, then: () => void): vscode.Disposable {
  const git = vscode.extensions.getExtension<GitExtension>('vscode.git');
  const repository = git?.isActive && git.exports.enabled ? git.exports.getAPI(1).getRepository(uri) : null;
  const state = repository?.state as { onDidChange?: vscode.Event<void> } | undefined;
  let commit = repository?.state.HEAD?.commit;
  return (
    state?.onDidChange?.(() => {
      const now = repository?.state.HEAD?.commit;
      if (now !== commit) then();
      commit = now;
    }) ?? new vscode.Disposable(() => {})
  );
}
