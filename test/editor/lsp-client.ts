import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import {
  createProtocolConnection,
  type Diagnostic,
  type InitializeResult,
  type Position,
  type ProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { PATIENCE } from '../support/patience.ts';

const MAIN = resolve(import.meta.dirname, '../../dist/cli/main.js');

/** What an editor says it can do, as common ones do. */
const CAPABILITIES = {
  textDocument: {
    completion: { completionItem: { documentationFormat: ['markdown' as const] } },
    hover: { contentFormat: ['markdown' as const] },
    publishDiagnostics: { relatedInformation: true },
    rename: { prepareSupport: true },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix'] } } },
  },
  workspace: { workspaceEdit: { documentChanges: true }, inlayHint: { refreshSupport: true } },
};

/** A real client of the protocol, with the built program at the other end of two pipes. */
export class LspClient {
  readonly folder: string;
  readonly connection: ProtocolConnection;
  readonly diagnostics = new Map<string, readonly Diagnostic[]>();
  /** How often diagnostics of a file were sent. */
  readonly published = new Map<string, number>();
  readonly #child: ChildProcess;
  readonly #documents = new Map<string, TextDocument>();
  readonly #exit: Promise<number | null>;
  initialized!: InitializeResult;
  stderr = '';

  private constructor(folder: string) {
    this.folder = folder;
    this.#child = spawn(process.execPath, [MAIN, 'language-server', '--stdio'], {
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    this.#exit = new Promise((done) => this.#child.on('exit', done));
    this.#child.stderr!.on('data', (chunk: Buffer) => {
      this.stderr += chunk.toString();
    });
    this.connection = createProtocolConnection(
      new StreamMessageReader(this.#child.stdout!),
      new StreamMessageWriter(this.#child.stdin!),
    );
    this.connection.onNotification('textDocument/publishDiagnostics', ({ uri, diagnostics }) => {
      const path = this.pathOf(uri);
      this.published.set(path, (this.published.get(path) ?? 0) + 1);
      this.diagnostics.set(path, diagnostics);
    });
    this.connection.onNotification('window/logMessage', ({ message }: { message: string }) => {
      this.stderr += `${message}\n`;
    });
    this.connection.onRequest('client/registerCapability', () => null);
    this.connection.onRequest('workspace/inlayHint/refresh', () => null);
    this.connection.listen();
  }

  /** Starts the program for a folder; `options` go to it when it is initialised. */
  static async start(folder: string, options?: unknown): Promise<LspClient> {
    const client = new LspClient(folder);
    client.initialized = await client.connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: pathToFileURL(folder).href,
      capabilities: CAPABILITIES,
      initializationOptions: options,
      workspaceFolders: null,
    });
    await client.connection.sendNotification('initialized', {});
    return client;
  }

  uriOf(path: string): string {
    return pathToFileURL(join(this.folder, path)).href;
  }

  pathOf(uri: string): string {
    return fileURLToPath(uri).slice(this.folder.length + 1);
  }

  /** Opens a file as the disk has it, or with a text of its own. */
  async open(path: string, text = readFileSync(join(this.folder, path), 'utf8')): Promise<void> {
    const uri = this.uriOf(path);
    this.#documents.set(path, TextDocument.create(uri, 'markdown', 1, text));
    await this.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId: 'markdown', version: 1, text },
    });
  }

  textOf(path: string): string {
    return this.#documents.get(path)!.getText();
  }

  /** Puts a text in place of a stretch of a file that is open, as typing does. */
  async edit(path: string, start: number, end: number, text: string): Promise<void> {
    const document = this.#documents.get(path)!;
    const range = { start: document.positionAt(start), end: document.positionAt(end) };
    const version = document.version + 1;
    this.#documents.set(path, TextDocument.update(document, [{ range, text }], version));
    await this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: document.uri, version },
      contentChanges: [{ range, text }],
    });
  }

  /** Replaces the whole text. */
  async rewrite(path: string, text: string): Promise<void> {
    await this.edit(path, 0, this.textOf(path).length, text);
  }

  async close(path: string): Promise<void> {
    this.#documents.delete(path);
    await this.connection.sendNotification('textDocument/didClose', {
      textDocument: { uri: this.uriOf(path) },
    });
  }

  position(path: string, offset: number): Position {
    return this.#documents.get(path)!.positionAt(offset);
  }

  offset(path: string, position: Position): number {
    return this.#documents.get(path)!.offsetAt(position);
  }

  /** Asks something of a place in a file. */
  at<Answer>(method: string, path: string, offset: number, more: object = {}): Promise<Answer> {
    return this.connection.sendRequest(method, {
      textDocument: { uri: this.uriOf(path) },
      position: this.position(path, offset),
      ...more,
    });
  }

  /** Asks something of a whole file. */
  ask<Answer>(method: string, path: string, more: object = {}): Promise<Answer> {
    return this.connection.sendRequest(method, { textDocument: { uri: this.uriOf(path) }, ...more });
  }

  /** Waits until diagnostics of a file fulfil a condition. */
  async until(path: string, fulfilled: (diagnostics: readonly Diagnostic[]) => boolean): Promise<void> {
    const deadline = Date.now() + PATIENCE;
    while (!fulfilled(this.diagnostics.get(path) ?? [])) {
      if (Date.now() > deadline) {
        throw new Error(`never: ${JSON.stringify(this.diagnostics.get(path))}\n${this.stderr}`);
      }
      await new Promise((done) => setTimeout(done, 10));
    }
  }

  /** Ends as the protocol has it; the exit status. */
  async end(): Promise<number | null> {
    await this.connection.sendRequest('shutdown');
    await this.connection.sendNotification('exit');
    return this.#exit;
  }

  /** Goes away without a word; the exit status. */
  async disconnect(): Promise<number | null> {
    this.#child.stdin!.end();
    return this.#exit;
  }
}
