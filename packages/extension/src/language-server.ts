/** The language server as the rest of the extension knows it. Its client is loaded after activation: what is asked before waits for it. */

import { ANALYSED_NOTIFICATION, type AnalysedParams } from '@ohmstead/language/protocol';
import type { BaseLanguageClient } from 'vscode-languageclient';

/** How a server is run and reached, which differs between a desktop and a browser. */
export interface ServerHost {
  /** A client that has not been started; called anew for each restart. */
  makeClient(): Promise<BaseLanguageClient>;
  /** Ends whatever of the server is left once its client has stopped, or was never made. */
  end(): void;
}

interface Disposable {
  dispose(): void;
}

type Listener = (params: AnalysedParams) => void;

export class LanguageServer {
  private running: Promise<BaseLanguageClient> | undefined;
  private isStopped = false;
  private readonly listeners = new Set<Listener>();

  constructor(private readonly host: ServerHost) {}

  /** Fails where the client could not be loaded or the server did not start; a restart may still be tried. */
  async start(): Promise<void> {
    await this.started();
  }

  /** Fails as `start` does, or with the server's own error. */
  async request<Answer>(method: string, params: object): Promise<Answer> {
    const client = await this.started();
    return client.sendRequest<Answer>(method, params);
  }

  /** A client knows one listener for each notification, so all who want to be told of a record gone through are told from here. */
  onAnalysed(listen: Listener): Disposable {
    this.listeners.add(listen);
    return { dispose: () => this.listeners.delete(listen) };
  }

  /** A start under way is waited for: a client that is starting can't be stopped. */
  async restart(): Promise<void> {
    await this.end();
    await this.start();
  }

  /** For good. */
  async stop(): Promise<void> {
    this.isStopped = true;
    await this.end();
  }

  private started(): Promise<BaseLanguageClient> {
    if (this.isStopped) return Promise.reject(new Error('The language server was stopped.'));
    this.running ??= this.makeAndStart();
    return this.running;
  }

  private async makeAndStart(): Promise<BaseLanguageClient> {
    const client = await this.host.makeClient();
    client.onNotification(ANALYSED_NOTIFICATION, (params: AnalysedParams) => {
      for (const listen of [...this.listeners]) listen(params);
    });
    // Stopped while its client was loaded.
    if (this.isStopped) throw new Error('The language server was stopped.');
    await client.start();
    return client;
  }

  private async end(): Promise<void> {
    const { running } = this;
    this.running = undefined;
    try {
      const client = await running?.catch(() => undefined);
      if (client?.needsStop()) await client.stop();
    } finally {
      this.host.end();
    }
  }
}
