/** Asks the language server for a comparison, with the texts of an earlier time that it wants. */

import {
  COMPARE_REQUEST,
  type CompareAnswer,
  type CompareParams,
  type ComparedWith,
} from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { LanguageServer } from '../language-server.js';
import { lastCommitOf } from './last-commit.js';
import type { Compared, ComparedPair } from './messages.js';

export type Comparing =
  | { readonly compared: Compared; readonly before: string }
  /** Why not, in one sentence. */
  | { readonly refused: string };

/** Imports are followed this far; no record is read in more goes. */
const MOST_GOES = 20;

export async function askToCompare(server: LanguageServer, { uri, against }: ComparedPair): Promise<Comparing> {
  const ask = (against: ComparedWith): Promise<CompareAnswer> =>
    server.request<CompareAnswer>(COMPARE_REQUEST, { uri, against } satisfies CompareParams);
  if (against.kind === 'record') return settled(await ask(against), nameOf(against.uri));
  if (against.kind === 'base') return settled(await ask(against), 'the record that it changes');
  const commit = await lastCommitOf(vscode.Uri.parse(uri));
  if (!commit) return { refused: 'This record is in no git repository that the editor knows of.' };
  const texts: Record<string, string | null> = {};
  for (let go = 0; go < MOST_GOES; go++) {
    const answer = await ask({ kind: 'earlier', texts });
    if (answer.kind !== 'needs') return settled(answer, `at the last commit (${commit.label})`);
    const found = await Promise.all(answer.uris.map((one) => commit.textOf(vscode.Uri.parse(one))));
    answer.uris.forEach((one, index) => {
      texts[one] = found[index] ?? null;
    });
  }
  return { refused: 'What this record imported at the last commit could not be read.' };
}

function settled(answer: CompareAnswer, before: string): Comparing {
  if (answer.kind === 'compared') return { compared: answer, before };
  return { refused: answer.kind === 'refused' ? answer.message : 'It could not be read.' };
}

/** The file's name, from the workspace where it is in it. */
export function nameOf(uri: string): string {
  const parsed = vscode.Uri.parse(uri);
  return parsed.scheme === 'untitled' ? parsed.path : vscode.workspace.asRelativePath(parsed);
}
