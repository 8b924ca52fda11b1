import { nodeFiles } from '@ohmstead/language/node-files';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';

/** Over Node's own channel between processes, or as the command line says. */
export function connect() {
  return { connection: createConnection(ProposedFeatures.all), files: nodeFiles };
}
