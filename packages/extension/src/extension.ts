/** The extension, one script for both hosts: the process of a desktop and the worker of a browser. */

import type * as vscode from 'vscode';
import { stop } from './activate.js';

const isNode = typeof process === 'object' && process.versions?.node !== undefined;

// Only the one that is asked for is run: the other's way to a language server is not there.
export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const { activate: begin } = await (isNode ? import('./on-desktop.js') : import('./in-browser.js'));
  begin(context);
}

export const deactivate = stop;
