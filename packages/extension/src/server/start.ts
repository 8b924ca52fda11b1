/**
 * What a desktop starts. Loading the server takes several times as long as starting Node, and what it answers to `initialize` is known
 * before: this answers, and hands over to the server what has come in until then. It loads nothing to read that one message.
 */

import nodeModule, { createRequire } from 'node:module';
import { INITIALIZE_RESULT } from '@ohmstead/language/capabilities';
import { handOver, type Id } from './handed-over.js';

interface FirstMessage {
  readonly id?: Id;
  readonly method?: string;
}

interface Answer {
  readonly jsonrpc: '2.0';
  readonly id: Id;
  readonly result: typeof INITIALIZE_RESULT;
}

const HEADER = /^(?:[^\r\n]+\r\n)*?Content-Length: *(\d+)\r\n(?:[^\r\n]+\r\n)*\r\n/i;

function loadServer(): void {
  // From Node 22.1 on: the second start finds the script compiled.
  (nodeModule as { enableCompileCache?: () => unknown }).enableCompileCache?.();
  createRequire(__filename)('./server.js');
}

/** Answers the first message if it is one that can be answered early, then loads the server, which calls `takeBack` first. */
function begin(
  { id, method }: FirstMessage,
  send: (answer: Answer, sent: () => void) => void,
  takeBack: () => unknown[],
) {
  const isEarly = method === 'initialize' && id !== undefined;
  const load = (): void => {
    handOver({ answered: isEarly ? id : undefined, takeBack });
    loadServer();
  };
  if (isEarly) send({ jsonrpc: '2.0', id, result: INITIALIZE_RESULT }, () => setImmediate(load));
  else load();
}

function beginOverIpc(): void {
  const held: unknown[] = [];
  const hold = (message: unknown): void => {
    if (held.push(message) > 1) return;
    begin(
      message as FirstMessage,
      (answer, sent) => process.send?.(answer, sent),
      () => {
        process.off('message', hold);
        return held;
      },
    );
  };
  process.on('message', hold);
}

function beginOverStdio(): void {
  const { stdin, stdout } = process;
  let held = Buffer.alloc(0);
  let begun = false;
  const hold = (bytes: Buffer): void => {
    held = Buffer.concat([held, bytes]);
    const header = begun ? null : HEADER.exec(held.toString('latin1'));
    const end = header ? header[0].length + Number(header[1]) : Number.POSITIVE_INFINITY;
    if (!header || held.length < end) return;
    begun = true;
    begin(
      JSON.parse(held.toString('utf8', header[0].length, end)),
      (answer, sent) => {
        const body = JSON.stringify(answer);
        stdout.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`, sent);
      },
      () => {
        stdin.off('data', hold);
        stdin.pause();
        stdin.unshift(held);
        // When somebody listens again, so that nothing is lost.
        process.nextTick(() => stdin.resume());
        return [];
      },
    );
  };
  stdin.on('data', hold);
  stdin.once('end', () => process.exit(1));
}

if (process.argv.includes('--node-ipc')) beginOverIpc();
else if (process.argv.includes('--stdio')) beginOverStdio();
else loadServer();
