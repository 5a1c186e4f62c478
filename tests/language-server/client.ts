/** A client of the built server: what an editor says and is told, over standard input and output. */
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { join } from 'node:path';
import type { Diagnostic, InitializeParams, InitializeResult } from 'vscode-languageserver';
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';

const LAUNCHER = join(import.meta.dirname, '..', '..', 'bin', 'listwright.js');

export class Client {
  readonly messages: string[] = [];
  readonly log: string[] = [];
  /** How often findings were told. */
  published = 0;
  settings: unknown = null;
  applied: unknown;
  private readonly process: ChildProcessWithoutNullStreams;
  readonly connection: MessageConnection;
  private readonly waiting: { uri: string; version?: number; settle(found: Diagnostic[]): void }[] =
    [];
  private readonly latest = new Map<string, { version?: number; diagnostics: Diagnostic[] }>();

  /** @param own a script that serves by itself, in place of the command line */
  constructor(args: readonly string[] = [], own?: string) {
    const script = own === undefined ? [LAUNCHER, 'language-server'] : [own];
    this.process = spawn(process.execPath, [...script, '--stdio', ...args]);
    this.connection = createMessageConnection(
      new StreamMessageReader(this.process.stdout),
      new StreamMessageWriter(this.process.stdin),
    );
    this.connection.onNotification('textDocument/publishDiagnostics', (params) => {
      const { uri, version, diagnostics } = params as {
        uri: string;
        version?: number;
        diagnostics: Diagnostic[];
      };
      this.published++;
      this.latest.set(uri, { version, diagnostics });
      for (const wait of [...this.waiting]) {
        if (wait.uri !== uri || (wait.version !== undefined && wait.version !== version)) continue;
        this.waiting.splice(this.waiting.indexOf(wait), 1);
        wait.settle(diagnostics);
      }
    });
    this.connection.onNotification('window/logMessage', ({ message }) => {
      this.log.push(message);
    });
    this.connection.onNotification('window/showMessage', ({ message }) => {
      this.messages.push(message);
    });
    this.connection.onRequest('workspace/configuration', ({ items }) =>
      items.map(() => this.settings),
    );
    this.connection.onRequest('client/registerCapability', () => null);
    this.connection.onRequest('workspace/applyEdit', ({ edit }) => {
      this.applied = edit;
      return { applied: true };
    });
    this.connection.listen();
  }

  async start(more: Partial<InitializeParams> = {}): Promise<InitializeResult> {
    const result = await this.ask<InitializeResult>('initialize', {
      processId: process.pid,
      rootUri: null,
      capabilities: {},
      ...more,
    });
    await this.connection.sendNotification('initialized', {});
    return result;
  }

  ask<T>(method: string, params: unknown): Promise<T> {
    return this.connection.sendRequest(method, params) as Promise<T>;
  }

  async openText(uri: string, text: string, version = 1): Promise<Diagnostic[]> {
    const found = this.findings(uri, version);
    await this.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId: 'listing', version, text },
    });
    return found;
  }

  async change(uri: string, version: number, contentChanges: readonly unknown[]): Promise<void> {
    await this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges,
    });
  }

  /** The findings of a version: those that are there already, else the next that come. */
  findings(uri: string, version?: number): Promise<Diagnostic[]> {
    const latest = this.latest.get(uri);
    if (latest !== undefined && version !== undefined && latest.version === version) {
      return Promise.resolve(latest.diagnostics);
    }
    return new Promise((settle) => this.waiting.push({ uri, version, settle }));
  }

  /** Ends the server as an editor does; gives its exit status. */
  async stop(): Promise<number | null> {
    await this.ask('shutdown', null);
    const ended = new Promise<number | null>((resolve) => this.process.once('exit', resolve));
    await this.connection.sendNotification('exit');
    const status = await ended;
    this.connection.dispose();
    return status;
  }
}
