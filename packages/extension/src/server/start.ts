/**
 * What a desktop starts. Loading the server takes several times as long as starting Node, and what it answers to `initialize` is known
 * before: this answers, and hands the channel over to the server with all that has come in until then.
 */

import nodeModule, { createRequire } from 'node:module';
import { INITIALIZE_RESULT } from '@ohmstead/language/capabilities';
import {
  type DataCallback,
  IPCMessageReader,
  IPCMessageWriter,
  type Message,
  type MessageReader,
  type MessageWriter,
  type RequestMessage,
  type ResponseMessage,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-jsonrpc/node';
import { type Channel, handOver } from './channel.js';

function openChannel(): Channel | undefined {
  if (process.argv.includes('--node-ipc'))
    return { reader: new IPCMessageReader(process), writer: new IPCMessageWriter(process) };
  if (!process.argv.includes('--stdio')) return undefined;
  // What is written to the console is none of the protocol's messages.
  console.log = console.error;
  return { reader: new StreamMessageReader(process.stdin), writer: new StreamMessageWriter(process.stdout) };
}

/** Answers the first message if it is `initialize`; `load` is called when the server is to take over what it is given. */
function answerEarly({ reader, writer }: Channel, load: (channel: Channel) => void): void {
  const held: Message[] = [];
  let take: DataCallback = (message) => held.push(message);
  /** The request that has been answered, and that the server will answer once more. */
  let answered: RequestMessage['id'] | undefined;
  let endsByRequest = false;
  reader.listen((message) => {
    const { method, id } = message as RequestMessage;
    if (method === 'shutdown') endsByRequest = true;
    take(message);
    if (held.length !== 1) return;
    const loadNext = (): void => void setImmediate(load, { reader: handedReader, writer: handedWriter });
    if (method !== 'initialize') return loadNext();
    answered = id;
    const answer: ResponseMessage = { jsonrpc: '2.0', id, result: INITIALIZE_RESULT };
    void writer.write(answer).finally(loadNext);
  });
  reader.onClose(() => process.exit(endsByRequest ? 0 : 1));
  const handedReader: MessageReader = {
    onError: reader.onError,
    onClose: reader.onClose,
    onPartialMessage: reader.onPartialMessage,
    listen(callback) {
      take = callback;
      for (const message of held.splice(0)) callback(message);
      return { dispose() {} };
    },
    dispose: () => reader.dispose(),
  };
  const handedWriter: MessageWriter = {
    onError: writer.onError,
    onClose: writer.onClose,
    async write(message) {
      const isSaid = answered !== undefined && (message as ResponseMessage).id === answered && !('method' in message);
      if (!isSaid) return await writer.write(message);
      answered = undefined;
    },
    end: () => writer.end(),
    dispose: () => writer.dispose(),
  };
}

function loadServer(): void {
  // From Node 22.1 on: the second start finds the script compiled.
  (nodeModule as { enableCompileCache?: () => unknown }).enableCompileCache?.();
  createRequire(__filename)('./server.js');
}

const channel = openChannel();
if (channel === undefined) loadServer();
else
  answerEarly(channel, (handed) => {
    handOver(handed);
    loadServer();
  });
