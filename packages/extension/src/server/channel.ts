/** How the script that a desktop starts hands its channel to the server's, which is a bundle of its own. */

import type { MessageReader, MessageWriter } from 'vscode-jsonrpc';

export interface Channel {
  readonly reader: MessageReader;
  readonly writer: MessageWriter;
}

const PLACE = Symbol.for('ohmstead.channel');

export function handOver(channel: Channel): void {
  (globalThis as Record<symbol, unknown>)[PLACE] = channel;
}

/** Undefined where the server has been started by itself. */
export function handedOver(): Channel | undefined {
  return (globalThis as Record<symbol, unknown>)[PLACE] as Channel | undefined;
}
