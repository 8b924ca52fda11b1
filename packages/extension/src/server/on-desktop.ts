import { nodeFiles } from '@ohmstead/language/node-files';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { handedOver } from './channel.js';

/** Over the channel that has been opened already, else as the command line says. */
export function connect() {
  const channel = handedOver();
  const connection = channel
    ? createConnection(ProposedFeatures.all, channel.reader, channel.writer)
    : createConnection(ProposedFeatures.all);
  return { connection, files: nodeFiles };
}
