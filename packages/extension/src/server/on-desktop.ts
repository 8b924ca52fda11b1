import { nodeFiles } from '@ohmstead/language/node-files';
import {
  createConnection,
  IPCMessageReader,
  IPCMessageWriter,
  type Message,
  type MessageReader,
  type MessageWriter,
  ProposedFeatures,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { handedOver, type HandedOver } from './handed-over.js';

/** Over Node's own channel between processes, or as the command line says. */
export function connect() {
  const handed = handedOver();
  const connection = handed ? goOn(handed) : createConnection(ProposedFeatures.all);
  return { connection, files: nodeFiles };
}

/** Goes on where somebody else has begun: with the messages that have come in, and without the answer that has been given. */
function goOn({ answered, takeBack }: HandedOver) {
  const isIpc = process.argv.includes('--node-ipc');
  const reader: MessageReader = isIpc ? new IPCMessageReader(process) : new StreamMessageReader(process.stdin);
  const writer: MessageWriter = isIpc ? new IPCMessageWriter(process) : new StreamMessageWriter(process.stdout);
  const listen = reader.listen.bind(reader);
  reader.listen = (callback) => {
    for (const message of takeBack()) callback(message as Message);
    return listen(callback);
  };
  const write = writer.write.bind(writer);
  let isSaid = answered === undefined;
  writer.write = async (message) => {
    if (isSaid || (message as { id?: unknown }).id !== answered || 'method' in message) return await write(message);
    isSaid = true;
  };
  return createConnection(ProposedFeatures.all, reader, writer);
}
