/** The quick pick of what a record is compared with. */

import { PLAN_BASE_REQUEST, type PlanBaseAnswer, type PlanParams } from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { LanguageServer } from '../language-server.js';
import { nameOf } from './ask.js';
import { lastCommitOf } from './last-commit.js';
import type { Against } from './messages.js';

interface Choice extends vscode.QuickPickItem {
  readonly against?: Against;
}

/** Undefined where nothing was chosen. */
export async function chooseAgainst(server: LanguageServer, uri: vscode.Uri): Promise<Against | undefined> {
  const chosen = await vscode.window.showQuickPick(choicesFor(server, uri), {
    title: `Compare ${nameOf(uri.toString())} with`,
    placeHolder: 'What it was before: the figures, findings and work that lead from there to this record are shown',
    matchOnDescription: true,
  });
  return chosen?.against;
}

async function choicesFor(server: LanguageServer, uri: vscode.Uri): Promise<Choice[]> {
  const params: PlanParams = { uri: uri.toString() };
  const [base, commit, files] = await Promise.all([
    server.request<PlanBaseAnswer>(PLAN_BASE_REQUEST, params),
    lastCommitOf(uri).catch(() => undefined),
    vscode.workspace.findFiles('**/*.wiring', '**/{node_modules,dist,out,.*}/**'),
  ]);
  const own: Choice[] = [];
  if (base.uri !== null) {
    own.push({ label: 'The record that it changes', description: nameOf(base.uri), against: { kind: 'base' } });
  }
  if (commit) {
    own.push({ label: 'Its last commit', description: commit.label, against: { kind: 'last-commit' } });
  }
  const others = [...new Set(files.map((file) => file.toString()))]
    .filter((file) => file !== uri.toString() && file !== base.uri)
    .map((file): Choice => ({ label: nameOf(file), against: { kind: 'record', uri: file } }))
    .sort((one, other) => (one.label < other.label ? -1 : 1));
  const heading: Choice = { label: 'another record', kind: vscode.QuickPickItemKind.Separator };
  return [...own, ...(others.length === 0 ? [] : [heading, ...others])];
}
