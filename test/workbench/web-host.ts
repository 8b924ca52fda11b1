import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { dirname, extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { installExtension, quietSettings } from './host.js';

const here = dirname(fileURLToPath(import.meta.url));
const vscode = join(here, 'node_modules', 'code-server', 'lib', 'vscode');
const script = '/out/vs/code/browser/workbench/workbench.js';
/** Where code-server's workbench makes itself a window of the server that it came from, and what VS Code itself has there. */
const asItWas: readonly (readonly [coder: string, vscode: string])[] = [
  [',remoteAuthority:location.host}', '}'],
  [
    'P.file(this.userDataPath).with({scheme:J.vscodeRemote}),"User")',
    'P.file("/").with({scheme:J.vscodeUserData}),"User")',
  ],
];

const types: Record<string, string> = {
  '.css': 'text/css',
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
};

/**
 * VS Code as an editor that is nothing but a page: the same workbench, served as dead files, with no server behind it
 * and therefore no process that an extension could run in. The workspace is in the page's memory.
 */
export class WebHost {
  private readonly answered: string[] = [];

  private constructor(
    private readonly root: string,
    private readonly extension: string,
    private readonly files: Record<string, string>,
    private readonly server: Server,
  ) {}

  /** Unpacks the extension as an installation does and serves the workbench; `files` are the workspace's, by name. */
  static async start(vsix: string, files: Record<string, string>): Promise<WebHost> {
    const root = mkdtempSync(join(process.env['OHMSTEAD_WORKBENCH_TMP'] ?? tmpdir(), 'web-'));
    try {
      const extensions = await installExtension(root, vsix);
      const folder = readdirSync(extensions).find((name) => name.startsWith('ohmstead.'));
      if (!folder) throw new Error(`${vsix} is no package of the extension: ${readdirSync(extensions)}`);
      const server = createServer();
      const host = new WebHost(root, join(extensions, folder), files, server);
      server.on('request', (request, response) => {
        const { pathname } = new URL(request.url ?? '/', 'http://127.0.0.1');
        const found = request.method === 'GET' ? host.answer(decodeURIComponent(pathname)) : undefined;
        host.answered.push(`${found ? 200 : 404} ${request.method} ${pathname}`);
        response.writeHead(found ? 200 : 404, { 'Content-Type': found?.type ?? 'text/plain' });
        response.end(found?.body ?? 'Not found');
      });
      await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
      return host;
    } catch (problem) {
      rmSync(root, { recursive: true, force: true });
      throw problem;
    }
  }

  get url(): string {
    return `http://127.0.0.1:${(this.server.address() as AddressInfo).port}/`;
  }

  /** Every request so far, with the status that it was answered with. */
  output(): string {
    return this.answered.join('\n');
  }

  async stop(): Promise<void> {
    this.server.closeAllConnections();
    await new Promise((closed) => this.server.close(closed));
    rmSync(this.root, { recursive: true, force: true });
  }

  private answer(path: string): { type: string; body: string | Buffer } | undefined {
    if (path === '/') return { type: 'text/html', body: this.page() };
    if (path === '/house-files/files.json') return { type: 'application/json', body: JSON.stringify(this.files) };
    const inside = (prefix: string, folder: string) =>
      path.startsWith(prefix) ? join(folder, normalize(path.slice(prefix.length - 1))) : undefined;
    const file =
      inside('/ohmstead/', this.extension) ?? inside('/house-files/', join(here, 'house-files')) ?? join(vscode, path);
    try {
      const body = path === script ? withoutServer(readFileSync(file, 'utf8')) : readFileSync(file);
      return { type: types[extname(path)] ?? 'application/octet-stream', body };
    } catch {
      return undefined;
    }
  }

  private page(): string {
    const { host } = new URL(this.url);
    const served = (path: string) => ({ scheme: 'http', authority: host, path });
    const configuration = {
      folderUri: { scheme: 'house', path: '/' },
      additionalBuiltinExtensions: [served('/house-files'), served('/ohmstead')],
      webviewEndpoint: '/out/vs/workbench/contrib/webview/browser/pre',
      configurationDefaults: quietSettings,
      enableWorkspaceTrust: false,
      callbackRoute: '/callback',
      isEnabledFileDownloads: true,
      isEnabledFileUploads: true,
      isEnabledCoderGettingStarted: false,
      userDataPath: '/user',
      productConfiguration: { extensionsGallery: undefined, enableTelemetry: false },
    };
    const attribute = JSON.stringify(configuration).replaceAll('&', '&amp;').replaceAll('"', '&quot;');
    return `<!DOCTYPE html>
<html>
<head>
<meta charset="utf-8">
<link rel="icon" href="data:,">
<meta id="vscode-workbench-web-configuration" data-settings="${attribute}">
<link rel="stylesheet" href="/out/vs/code/browser/workbench/workbench.css">
</head>
<body aria-label=""></body>
<script>globalThis._VSCODE_FILE_ROOT = location.origin + '/out/';</script>
<script type="module" src="/out/nls.messages.js"></script>
<script type="module" src="${script}"></script>
</html>
`;
  }
}

function withoutServer(workbench: string): string {
  return asItWas.reduce((text, [coder, vscode]) => {
    if (!text.includes(coder)) throw new Error(`${script} no longer has ${coder}`);
    return text.replace(coder, vscode);
  }, workbench);
}
