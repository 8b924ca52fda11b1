/** A type of one's own by four questions: what it is, what it is called, its label, its screws. */

import * as vscode from 'vscode';
import { kindChoices, labelProblem, typeText } from './label-type.js';

/** Asks, and opens what was answered as a file that is not saved yet. Escape at any question leaves everything as it was. */
export async function newType(): Promise<void> {
  const chosen = await vscode.window.showQuickPick(kindChoices, { title: 'New type (1 of 4): what is it?' });
  if (!chosen) return;
  const kind = chosen.part;
  const words = await vscode.window.showInputBox({
    title: 'New type (2 of 4): what do you call it?',
    prompt: 'In words, as on its box. The name that records use is made of them.',
    value: kind === 'supply' ? 'Bell transformer 16 V 30 VA' : 'Two-note gong',
    validateInput: (answer) => (answer.trim() === '' ? 'Write what it is' : undefined),
  });
  if (words === undefined) return;
  const figures = await vscode.window.showInputBox({
    title: 'New type (3 of 4): the figures on its label',
    prompt: 'Volts, then VA, W or A. What the label does not say is left to be looked up.',
    placeHolder: kind === 'contact' ? '30 V, 1 A' : '16 V AC, 10 VA',
    validateInput: (answer) => labelProblem(answer, kind),
  });
  if (figures === undefined) return;
  const screws = await vscode.window.showInputBox({
    title: 'New type (4 of 4): the words beside its screws or leads',
    prompt: 'With commas between them, first the two that it works between.',
    value: kind === 'electronics' || kind === 'lock' ? '+, -' : 'A, B',
    validateInput: (answer) =>
      answer.split(',').length < 2 ? 'Two screws at least, with a comma between them' : undefined,
  });
  if (screws === undefined) return;
  const content = typeText({ kind, words, figures, screws: screws.split(',') });
  const document = await vscode.workspace.openTextDocument({ language: 'ohmstead', content });
  await vscode.window.showTextDocument(document);
}
