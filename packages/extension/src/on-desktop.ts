/** On a desktop the language server is a child process. */

import type { ChildProcess } from 'node:child_process';
import type * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { IPCMessageReader, IPCMessageWriter } from 'vscode-languageserver-protocol/node';
import { makeClient } from './client.js';

export function clientOfProcess(log: vscode.LogOutputChannel, take: () => ChildProcess): BaseLanguageClient {
  const connect = async () => {
    const child = take();
    return { reader: new IPCMessageReader(child), writer: new IPCMessageWriter(child) };
  };
  return makeClient(log, connect, process.pid);
}
