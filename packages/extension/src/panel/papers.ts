/** The installer's papers of a record: looked at in a tab, or written out to be printed, sent or counted. */

import * as vscode from 'vscode';
import type { LanguageServer } from '../language-server.js';
import { isRecord } from '../records.js';
import { PAPERS_REQUEST, type PapersAnswer, type PapersParams } from './pictures.js';

export class Papers {
  constructor(
    private readonly server: LanguageServer,
    private readonly extensionUri: vscode.Uri,
  ) {}

  /** As they will be printed, black on white. */
  async show(): Promise<void> {
    const record = recordInView();
    if (!record) return;
    const nonce = crypto.randomUUID();
    const { text } = await this.ask({ ...asked(record), form: 'page', nonce });
    if (text === null) return unreadable();
    const where = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: false };
    const panel = vscode.window.createWebviewPanel('ohmstead.papers', `Papers: ${nameOf(record.uri)}`, where);
    panel.iconPath = vscode.Uri.joinPath(this.extensionUri, 'media', 'record.svg');
    panel.webview.html = text;
  }

  /** Asks for the form and the place, writes, and offers to open what was written. */
  async save(): Promise<void> {
    const record = recordInView();
    if (!record) return;
    const base = asked(record);
    const { text: page, tables } = await this.ask({ ...base, form: 'html' });
    if (page === null) return unreadable();
    const forms: (vscode.QuickPickItem & Form)[] = [
      { label: 'Page to print (HTML)', detail: 'Every paper on sheets of its own', form: 'html', ending: 'html' },
      {
        label: 'Page to print, without the site (HTML)',
        detail: 'Leaves out the title, which carries the address, notes and photos',
        form: 'html',
        ending: 'html',
        withoutAddress: true,
      },
      { label: 'Markdown', form: 'md', ending: 'md' },
      ...tables.map(({ name, title }) => ({
        label: `${title} (CSV)`,
        form: 'csv' as const,
        ending: 'csv',
        only: name,
      })),
    ];
    const chosen = await vscode.window.showQuickPick(forms, { placeHolder: 'In which form?' });
    if (!chosen) return;
    const { form, ending, only, withoutAddress } = chosen;
    const stem = nameOf(record.uri).replace(/\.wiring$/, '');
    const suggested = vscode.Uri.joinPath(record.uri, '..', `${stem}-${only ?? 'papers'}.${ending}`);
    const target = await vscode.window.showSaveDialog({
      ...(record.isUntitled ? {} : { defaultUri: suggested }),
      filters: { [ending.toUpperCase()]: [ending] },
    });
    if (!target) return;
    const { text } = await this.ask({
      ...base,
      form,
      withoutAddress: withoutAddress === true,
      ...(only !== undefined && { only }),
    });
    if (text === null) return unreadable();
    await vscode.workspace.fs.writeFile(target, new TextEncoder().encode(text));
    const open = form === 'html' ? 'Open to Print' : 'Open';
    const answer = await vscode.window.showInformationMessage(`The papers are in ${nameOf(target)}.`, open);
    if (answer === undefined) return;
    if (form === 'html' && target.scheme === 'file') await vscode.env.openExternal(target);
    else await vscode.window.showTextDocument(target);
  }

  private ask(params: PapersParams): Promise<PapersAnswer> {
    return this.server.request<PapersAnswer>(PAPERS_REQUEST, params);
  }
}

interface Form {
  readonly form: PapersParams['form'];
  readonly ending: string;
  readonly only?: string;
  readonly withoutAddress?: boolean;
}

function asked({ uri }: vscode.TextDocument): Omit<PapersParams, 'form'> {
  const now = new Date();
  const two = (figure: number) => String(figure).padStart(2, '0');
  const date = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  return { uri: uri.toString(), date, withoutAddress: false };
}

/** The active one, or one that can be seen; says so where there is none. */
export function recordInView(): vscode.TextDocument | undefined {
  const active = vscode.window.activeTextEditor;
  const editor = isRecord(active) ? active : vscode.window.visibleTextEditors.find(isRecord);
  if (!editor) void vscode.window.showInformationMessage('Open a .wiring record first.');
  return editor?.document;
}

function unreadable(): void {
  void vscode.window.showWarningMessage('The record cannot be read as it stands. Its errors are in the Problems view.');
}

const nameOf = (uri: vscode.Uri): string => uri.path.split('/').at(-1) ?? '';
