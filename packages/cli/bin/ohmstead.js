#!/usr/bin/env node
import { main } from '../dist/ohmstead.js';

// A reader that stops early, such as `head`, is no fault of ours.
process.stdout.on('error', (error) => {
  if (error.code === 'EPIPE') process.exit();
  throw error;
});

process.exitCode = await main(process.argv.slice(2), {
  cwd: process.cwd(),
  env: process.env,
  isTerminal: process.stdout.isTTY === true,
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
});
