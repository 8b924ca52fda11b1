// A module of the sources as this process can use it, before anything is built.
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import './polyfill.mjs';

/** @param {URL} source */
export async function loadSource(source) {
  const { outputFiles } = await build({
    entryPoints: [fileURLToPath(source)],
    bundle: true,
    write: false,
    platform: 'node',
    format: 'esm',
    mainFields: ['module', 'main'],
    conditions: ['import'],
    logLevel: 'warning',
  });
  return import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`);
}
