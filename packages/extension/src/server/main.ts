/** The extension's language server, one script for both hosts: a child process of a desktop, a web worker of a browser. */

import { startServer } from '@ohmstead/language/server';
import { answerPanel } from './answer-panel.js';

const isNode = typeof process === 'object' && process.versions?.node !== undefined;

// Only the one that is asked for is run: the other's transport is not there.
void (isNode ? import('./on-desktop.js') : import('./in-browser.js')).then(({ connect }) => {
  const { connection, files } = connect();
  startServer(connection, { ...(files && { files }), answer: answerPanel });
});
