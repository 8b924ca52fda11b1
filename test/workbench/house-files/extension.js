/** A workspace in memory: `house:/` has the files that `files.json` beside this extension names. Written for tests: one flat folder. */

const vscode = require('vscode');

const folder = { type: vscode.FileType.Directory, ctime: 0, mtime: 0, size: 0 };

class HouseFiles {
  #changed = new vscode.EventEmitter();
  onDidChangeFile = this.#changed.event;
  #contents;
  #began = Date.now();

  constructor(contents) {
    this.#contents = contents;
  }

  watch() {
    return new vscode.Disposable(() => {});
  }

  async stat(uri) {
    if (uri.path === '/') return folder;
    const { bytes, mtime } = await this.#entry(uri);
    return { type: vscode.FileType.File, ctime: this.#began, mtime, size: bytes.length };
  }

  async readDirectory(uri) {
    if (uri.path !== '/') throw vscode.FileSystemError.FileNotFound(uri);
    return [...(await this.#contents).keys()].map((name) => [name, vscode.FileType.File]);
  }

  async readFile(uri) {
    return (await this.#entry(uri)).bytes;
  }

  async writeFile(uri, bytes) {
    const contents = await this.#contents;
    const name = uri.path.slice(1);
    const type = contents.has(name) ? vscode.FileChangeType.Changed : vscode.FileChangeType.Created;
    contents.set(name, { bytes, mtime: Date.now() });
    this.#changed.fire([{ type, uri }]);
  }

  async delete(uri) {
    (await this.#contents).delete(uri.path.slice(1));
    this.#changed.fire([{ type: vscode.FileChangeType.Deleted, uri }]);
  }

  async rename(from, to) {
    await this.writeFile(to, await this.readFile(from));
    await this.delete(from);
  }

  createDirectory(uri) {
    throw vscode.FileSystemError.NoPermissions(uri);
  }

  async #entry(uri) {
    const entry = (await this.#contents).get(uri.path.slice(1));
    if (!entry) throw vscode.FileSystemError.FileNotFound(uri);
    return entry;
  }
}

async function load(context) {
  const list = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(context.extensionUri, 'files.json'));
  const texts = Object.entries(JSON.parse(new TextDecoder().decode(list)));
  return new Map(texts.map(([name, text]) => [name, { bytes: new TextEncoder().encode(text), mtime: Date.now() }]));
}

exports.activate = (context) => {
  const files = new HouseFiles(load(context));
  context.subscriptions.push(vscode.workspace.registerFileSystemProvider('house', files, { isCaseSensitive: true }));
};
