import type { Page } from 'playwright-core';
import type { MessageConnection } from 'vscode-jsonrpc/node';
import type { TextDocument } from 'vscode-languageserver-textdocument';

export type PanelTheme = 'vscode-light' | 'vscode-dark' | 'vscode-high-contrast' | 'vscode-high-contrast-light';

export declare const themes: Record<PanelTheme, Record<string, string>>;

export interface PanelPage {
  readonly page: Page;
  readonly server: { readonly connection: MessageConnection };
  readonly uri: string;
  readonly document: TextDocument;
  /** What the page asked its host to show, and what it said else. */
  readonly revealed: readonly { readonly kind: string; readonly [more: string]: unknown }[];
  send(message: unknown): Promise<void>;
  sendBudget(marked?: string | null): Promise<void>;
  /** Takes a text's new version and sends the page its budget. */
  edit(from: string, to: string): Promise<void>;
  editAt(start: number, end: number, put: string): Promise<void>;
  stop(): Promise<void>;
}

export declare function openPanelPage(
  page: Page,
  text: string,
  options?: { readonly theme?: PanelTheme; readonly state?: unknown },
): Promise<PanelPage>;
