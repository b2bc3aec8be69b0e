import {
  type Connection,
  createConnection,
  DidChangeWatchedFilesNotification,
  type InitializeParams,
  type InitializeResult,
  InlayHintRefreshRequest,
  LogMessageNotification,
  MessageType,
  NotificationType,
  ProposedFeatures,
  TextDocumentSyncKind,
  TextDocuments,
} from 'vscode-languageserver/node';
import type { EvaluationOutcome, FoundDiagnostic } from '../evaluation/outcome.ts';
import { answerRequests, CAPABILITIES } from './answer-requests.ts';
import { CLIENT_TEXT } from './client-text.ts';
import { type OpenProject, OpenProjects, uriOf } from './open-projects.ts';
import { toDiagnostic } from './to-protocol.ts';

/** What the server says of itself. */
export interface ServerInfo {
  readonly name: string;
  readonly version: string;
}

/** Told after each evaluation to a client that has asked for it: how long it took, and how many results of which query were computed. */
const EVALUATED = new NotificationType<{
  readonly milliseconds: number;
  readonly computed: Readonly<Record<string, number>>;
}>('surgenote/evaluated');

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
  readonly #documents = new TextDocuments(CLIENT_TEXT);
  readonly #projects: OpenProjects;
  #client: InitializeParams['capabilities'] = {};
  #tellsEvaluations = false;

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
    connection.onInitialized(() => this.#inBackground(this.#watchFiles()));
    connection.onDidChangeWatchedFiles(() => this.#inBackground(this.#lookAgain()));
    connection.onShutdown(() => this.#projects.end());
    // Changes come after the opening, and the last text is the one that counts.
    this.#documents.onDidChangeContent(({ document }) => this.#inBackground(this.#hold(document.uri)));
    this.#documents.onDidClose(({ document }) => this.#inBackground(this.#hold(document.uri)));
    this.#documents.onDidSave(() => this.#inBackground(this.#lookAgain()));
    answerRequests(connection, this.#documents, this.#projects);
    this.#documents.listen(connection);
    connection.listen();
  }

  #log(message: string): void {
    void this.#connection.sendNotification(LogMessageNotification.type, { type: MessageType.Error, message });
  }

  /** Of what nobody waits for, a failure is told in the log of the editor. */
  #inBackground(work: Promise<void>): void {
    work.catch((error: unknown) => this.#log(wordError(error)));
  }

  #initialize({ capabilities, initializationOptions }: InitializeParams): InitializeResult {
    this.#client = capabilities;
    this.#tellsEvaluations = initializationOptions?.tellEvaluations === true;
    const textDocumentSync = {
      openClose: true,
      change: TextDocumentSyncKind.Incremental as TextDocumentSyncKind,
      save: { includeText: false },
    };
    return { serverInfo: this.#info, capabilities: { textDocumentSync, ...CAPABILITIES } };
  }

  async #watchFiles(): Promise<void> {
    if (!this.#client.workspace?.didChangeWatchedFiles?.dynamicRegistration) return;
    await this.#connection.client.register(DidChangeWatchedFilesNotification.type, {
      watchers: [{ globPattern: '**/*.{md,yaml,csv,png,jpg,jpeg,svg}' }],
    });
  }

  async #hold(uri: string): Promise<void> {
    const file = await this.#projects.find(uri);
    if (!file) return;
    if (file.project.hold(file.path, this.#documents.get(uri)?.getText())) file.loop.touch();
  }

  async #lookAgain(): Promise<void> {
    for (const { project, loop } of await this.#projects.all()) {
      project.lookAgain();
      loop.touch();
    }
  }

  #publish(open: OpenProject, outcome: EvaluationOutcome): void {
    this.#publishDiagnostics(open, outcome);
    if (this.#client.workspace?.inlayHint?.refreshSupport) {
      void this.#connection.sendRequest(InlayHintRefreshRequest.type).catch(() => undefined);
    }
    if (!this.#tellsEvaluations) return;
    const { milliseconds, computed } = outcome;
    void this.#connection.sendNotification(EVALUATED, {
      milliseconds,
      computed: Object.fromEntries(computed),
    });
  }

  /** Shows what was found, file by file, where it is other than what is shown; of a text that has changed since the next outcome tells. */
  #publishDiagnostics({ project, shown }: OpenProject, { diagnostics }: EvaluationOutcome): void {
    const byFile = groupByFile(diagnostics);
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

function groupByFile(diagnostics: readonly FoundDiagnostic[]): Map<string, FoundDiagnostic[]> {
  const byFile = new Map<string, FoundDiagnostic[]>();
  for (const one of diagnostics) {
    const { file } = one.position;
    const known = byFile.get(file);
    if (known) known.push(one);
    else byFile.set(file, [one]);
  }
  return byFile;
}

function wordError(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
