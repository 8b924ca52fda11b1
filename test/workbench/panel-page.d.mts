import type { Page } from 'playwright-core';
import type { MessageConnection } from 'vscode-jsonrpc/node';
import type { TextDocument } from 'vscode-languageserver-textdocument';

export type PanelTheme = 'vscode-light' | 'vscode-dark' | 'vscode-high-contrast' | 'vscode-high-contrast-light';

export declare const themes: Record<PanelTheme, Record<string, string>>;

export interface PanelPage {
  readonly page: Page;
  readonly server: PanelServer;
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

/** What the page keeps over a reload: of which record, and more that is its own. */
export interface KeptPanel {
  readonly uri: string;
}

export interface PanelServer {
  readonly connection: MessageConnection;
  stop(): Promise<void>;
}

export declare function startPanelServer(): Promise<PanelServer>;

export declare function openPanelPage(
  page: Page,
  text: string,
  options?: { readonly theme?: PanelTheme; readonly state?: KeptPanel | undefined; readonly server?: PanelServer },
): Promise<PanelPage>;
