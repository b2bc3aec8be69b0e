import {
  type CompletionItem,
  type Connection,
  createConnection,
  DidChangeWatchedFilesNotification,
  type InitializeParams,
  type InitializeResult,
  LogMessageNotification,
  MessageType,
  type Position,
  ProposedFeatures,
  type Range,
  TextDocumentSyncKind,
  TextDocuments,
} from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { complete } from '../complete/complete.ts';
import type { EvaluationOutcome, FoundDiagnostic } from '../evaluation/outcome.ts';
import { type OpenFile, type OpenProject, OpenProjects, uriOf } from './open-projects.ts';
import { toCompletionItem, toDiagnostic } from './to-protocol.ts';

/** What the server says of itself. */
export interface ServerInfo {
  readonly name: string;
  readonly version: string;
}

/**
 * Serves an editor on two streams until it ends the connection; then the process ends, as the protocol has it.
 *
 * @returns never, as long as the connection stands
 */
export function startLanguageServer(
  input: NodeJS.ReadableStream,
  output: NodeJS.WritableStream,
  info: ServerInfo,
): Promise<never> {
  const connection = createConnection(ProposedFeatures.all, input, output);
  new LanguageServer(connection, info).listen();
  return new Promise(() => undefined);
}

class LanguageServer {
  readonly #connection: Connection;
  readonly #info: ServerInfo;
  readonly #documents = new TextDocuments(TextDocument);
  readonly #projects: OpenProjects;
  #client: InitializeParams['capabilities'] = {};

  constructor(connection: Connection, info: ServerInfo) {
    this.#connection = connection;
    this.#info = info;
    this.#projects = new OpenProjects(
      (open, outcome) => this.#publish(open, outcome),
      (error) => this.#log(`an evaluation failed: ${wordError(error)}`),
    );
  }

  listen(): void {
    const connection = this.#connection;
    connection.onInitialize((params) => this.#initialize(params));
    connection.onInitialized(() => void this.#watchFiles());
    connection.onDidChangeWatchedFiles(() => void this.#lookAgain());
    connection.onShutdown(() => this.#projects.end());
    this.#listenToDocuments();
    connection.onCompletion(({ textDocument, position }) => this.#complete(textDocument.uri, position));
    this.#documents.listen(connection);
    connection.listen();
  }

  #log(message: string): void {
    void this.#connection.sendNotification(LogMessageNotification.type, { type: MessageType.Error, message });
  }

  #initialize({ capabilities }: InitializeParams): InitializeResult {
    this.#client = capabilities;
    return {
      serverInfo: this.#info,
      capabilities: {
        textDocumentSync: {
          openClose: true,
          change: TextDocumentSyncKind.Incremental,
          save: { includeText: false },
        },
        completionProvider: { triggerCharacters: ['.', '/', '{', ' ', ':', '!'] },
      },
    };
  }

  async #watchFiles(): Promise<void> {
    if (!this.#client.workspace?.didChangeWatchedFiles?.dynamicRegistration) return;
    await this.#connection.client.register(DidChangeWatchedFilesNotification.type, {
      watchers: [{ globPattern: '**/*.{md,yaml,csv,png,jpg,jpeg,svg}' }],
    });
  }

  #listenToDocuments(): void {
    // Changes come after the opening, and the last text is the one that counts.
    this.#documents.onDidChangeContent(({ document }) => void this.#hold(document.uri));
    this.#documents.onDidClose(({ document }) => void this.#hold(document.uri));
    this.#documents.onDidSave(() => void this.#lookAgain());
  }

  async #hold(uri: string): Promise<void> {
    const file = await this.#projects.find(uri);
    if (!file) return;
    file.project.hold(file.path, this.#documents.get(uri)?.getText());
    file.loop.touch();
  }

  async #lookAgain(): Promise<void> {
    for (const { project, loop } of await this.#projects.all()) {
      project.lookAgain();
      loop.touch();
    }
  }

  /** A file with its text as the editor has it; undefined where it belongs to no project. */
  async #fileOf(uri: string): Promise<(OpenFile & { readonly document: TextDocument }) | undefined> {
    const file = await this.#projects.find(uri);
    const document = this.#documents.get(uri);
    if (!file || !document) return undefined;
    file.project.hold(file.path, document.getText());
    return { ...file, document };
  }

  async #complete(uri: string, position: Position): Promise<CompletionItem[]> {
    const file = await this.#fileOf(uri);
    if (!file) return [];
    const { document, project, path } = file;
    const offers = complete(project, path, document.offsetAt(position));
    return offers.map((offer, index) => toCompletionItem(offer, index, rangesOf(document)));
  }

  /** Shows what was found, file by file, where it is other than what is shown; of a text that has changed since the next outcome tells. */
  #publish(open: OpenProject, { diagnostics }: EvaluationOutcome): void {
    const { project, shown } = open;
    const byFile = new Map<string, FoundDiagnostic[]>();
    for (const one of diagnostics) {
      const { file } = one.position;
      byFile.set(file, [...(byFile.get(file) ?? []), one]);
    }
    for (const path of new Set([...byFile.keys(), ...shown.keys()])) {
      if (project.textOf(path) !== undefined && !project.isAsTold(path)) continue;
      const found = (byFile.get(path) ?? []).map((one) => toDiagnostic(one, (file) => uriOf(project, file)));
      const text = JSON.stringify(found);
      if ((shown.get(path) ?? '[]') === text) continue;
      if (found.length === 0) shown.delete(path);
      else shown.set(path, text);
      void this.#connection.sendDiagnostics({ uri: uriOf(project, path), diagnostics: found });
    }
  }
}

function rangesOf(document: TextDocument): (start: number, end: number) => Range {
  return (start, end) => ({ start: document.positionAt(start), end: document.positionAt(end) });
}

function wordError(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
