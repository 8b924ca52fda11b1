/** Packages the built extension from a clean folder that holds only what ships; prints the package's path and size. A path can be given for it. */

import { cp, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Transform } from 'node:stream';
import zlib from 'node:zlib';
import zopfli from '@gfx/zopfli';
import { createVSIX } from '@vscode/vsce';
import { shipped, shippedWhereThere } from './shipped.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const target = process.argv[2] ?? join(here, 'dist', 'ohmstead.vsix');
const stage = await mkdtemp(join(tmpdir(), 'ohmstead-stage-'));

for (const path of shipped) await cp(join(here, path), join(stage, path), { recursive: true });
for (const path of shippedWhereThere) {
  const there = await stat(join(here, path)).catch(() => undefined);
  if (there) await cp(join(here, path), join(stage, path), { recursive: true });
}
await cp(join(root, 'LICENSE'), join(stage, 'LICENSE'));

// The bundles carry their dependencies, and the workspace's own are not published. They are no modules either:
// an editor in a browser refuses an extension whose manifest says that it is one.
const {
  dependencies: _bundled,
  private: _private,
  type: _ofTheSource,
  ...manifest
} = JSON.parse(await readFile(join(here, 'package.json'), 'utf8'));
await writeFile(join(stage, 'package.json'), `${JSON.stringify({ ...manifest, files: ['**/*'] }, null, 2)}\n`);

// The packager compresses with the usual effort and can't be asked for more: with all of it a package is a thirtieth smaller.
const { DeflateRaw, deflateRaw } = zlib;
const pack = (bytes, done) => zopfli.deflate(bytes, { numiterations: 1 }, done);
zlib.DeflateRaw = class extends Transform {
  #parts = [];
  _transform(part, _encoding, done) {
    this.#parts.push(part);
    done();
  }
  _flush(done) {
    pack(Buffer.concat(this.#parts), done);
  }
};
zlib.deflateRaw = pack;

// The packager's progress goes to the console; only its warnings and errors are of use here.
const info = console.log;
console.log = () => {};
try {
  await createVSIX({
    cwd: stage,
    packagePath: target,
    dependencies: false,
    allowMissingRepository: true,
    rewriteRelativeLinks: false,
  });
} finally {
  console.log = info;
  Object.assign(zlib, { DeflateRaw, deflateRaw });
  await rm(stage, { recursive: true, force: true });
}

const { size } = await stat(target);
console.log(`${relative(process.cwd(), target)}  ${Math.round(size / 1024)} KB`);
