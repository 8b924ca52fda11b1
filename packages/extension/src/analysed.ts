/** When a record has been analysed. A client knows one listener for each notification, so all who want to be told are told from here. */

import { ANALYSED_NOTIFICATION, type AnalysedParams } from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

const emitters = new WeakMap<BaseLanguageClient, vscode.EventEmitter<AnalysedParams>>();

export function onAnalysed(client: BaseLanguageClient, listen: (params: AnalysedParams) => void): vscode.Disposable {
  let emitter = emitters.get(client);
  if (!emitter) {
    const made = new vscode.EventEmitter<AnalysedParams>();
    client.onNotification(ANALYSED_NOTIFICATION, (params: AnalysedParams) => made.fire(params));
    emitters.set(client, made);
    emitter = made;
  }
  return emitter.event(listen);
}
