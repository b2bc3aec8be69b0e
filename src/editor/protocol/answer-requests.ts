import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  type Connection,
  DocumentHighlightKind,
  type DocumentSymbol,
  ErrorCodes,
  FoldingRangeKind,
  type Location,
  LSPErrorCodes,
  type Range,
  ResponseError,
  type ServerCapabilities,
  SymbolKind,
  type TextDocuments,
  type WorkspaceEdit,
} from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { complete } from '../complete/complete.ts';
import { hoverAt } from '../describe/hover.ts';
import type { EvaluationOutcome } from '../evaluation/outcome.ts';
import { quickFixes } from '../fixes/quick-fixes.ts';
import { formatFile } from '../format/format-file.ts';
import { inlayHints } from '../hints/inlay-hints.ts';
import { definitionOf, findMentions, namedAt, type Stretch } from '../names/named.ts';
import { renamableAt, renameBlock } from '../names/rename-block.ts';
import { foldsOf, type OutlineItem, outlineOf } from '../outline/outline.ts';
import { type OpenFile, type OpenProjects, uriOf } from './open-projects.ts';
import { toCompletionItem, toDiagnostic, toRange } from './to-protocol.ts';

export const CAPABILITIES: ServerCapabilities = {
  completionProvider: { triggerCharacters: ['.', '/', '{', ' ', ':', '!'] },
  hoverProvider: true,
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  inlayHintProvider: true,
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] },
  documentSymbolProvider: true,
  foldingRangeProvider: true,
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
};

/** So long a hover waits for values, in milliseconds: then it says what is known without them. */
const PATIENCE = 400;

/** A file as the editor has it. */
interface AskedFile extends OpenFile {
  readonly document: TextDocument;
}

/** Answers what an editor asks of files. Offsets become lines and columns here, and nowhere further in. */
export function answerRequests(
  connection: Connection,
  documents: TextDocuments<TextDocument>,
  projects: OpenProjects,
): void {
  new Answers(documents, projects).register(connection);
}

class Answers {
  readonly #documents: TextDocuments<TextDocument>;
  readonly #projects: OpenProjects;

  constructor(documents: TextDocuments<TextDocument>, projects: OpenProjects) {
    this.#documents = documents;
    this.#projects = projects;
  }

  register(connection: Connection): void {
    connection.onCompletion((asked) =>
      this.#at(asked, [], ({ project, path, document }, offset) =>
        complete(project, path, offset).map((offer, index) =>
          toCompletionItem(offer, index, (start, end) => rangeIn(document, { start, end })),
        ),
      ),
    );
    connection.onHover((asked, token) => this.#at(asked, null, (file, offset) => hover(file, offset, token)));
    connection.onDefinition((asked) =>
      this.#at(asked, null, (file, offset) => this.#definition(file, offset)),
    );
    connection.onReferences((asked) =>
      this.#at(asked, [], (file, offset) => this.#references(file, offset, asked.context.includeDeclaration)),
    );
    connection.onDocumentHighlight((asked) =>
      this.#at(asked, [], (file, offset) =>
        this.#references(file, offset, true)
          .filter(({ uri }) => uri === asked.textDocument.uri)
          .map(({ range }) => ({ range, kind: DocumentHighlightKind.Text })),
      ),
    );
    connection.onPrepareRename((asked) =>
      this.#at(asked, null, ({ project, path, document }, offset) => {
        const found = renamableAt(project, path, offset);
        return found ? { range: rangeIn(document, found), placeholder: found.named.id } : null;
      }),
    );
    connection.onRenameRequest((asked) =>
      this.#at(asked, null, (file, offset) => this.#rename(file, offset, asked.newName)),
    );
    connection.languages.inlayHint.on((asked, token) =>
      this.#of(asked, [], async (file) => {
        const outcome = await currentOutcome(file, token);
        const { document, project, path } = file;
        return inlayHints(project, path, spanIn(document, asked.range), outcome).map(
          ({ offset, label, about }) => ({
            position: document.positionAt(offset),
            label,
            paddingLeft: true,
            ...(about === undefined ? {} : { tooltip: { kind: 'markdown' as const, value: about } }),
          }),
        );
      }),
    );
    connection.onCodeAction((asked, token) =>
      this.#of(asked, [], async (file) => this.#fixes(file, asked.range, await currentOutcome(file, token))),
    );
    connection.onDocumentSymbol((asked) =>
      this.#of(asked, [], ({ project, path, document }) =>
        path.endsWith('.md') ? outlineOf(project, path).map((item) => toSymbol(item, document)) : [],
      ),
    );
    connection.onFoldingRanges((asked) =>
      this.#of(asked, [], ({ project, path, document }) =>
        foldsOf(project, path).map(({ start, end }) => ({
          startLine: document.positionAt(start).line,
          endLine: document.positionAt(end).line,
          kind: FoldingRangeKind.Region,
        })),
      ),
    );
    connection.onDocumentFormatting((asked) => this.#of(asked, [], (file) => format(file)));
    connection.onDocumentRangeFormatting((asked) =>
      this.#of(asked, [], (file) => format(file, spanIn(file.document, asked.range))),
    );
  }

  /** An answer about a file; `none` where it belongs to no project. */
  async #of<Answer>(
    { textDocument: { uri } }: { readonly textDocument: { readonly uri: string } },
    none: Answer,
    answer: (file: AskedFile) => Answer | Promise<Answer>,
  ): Promise<Answer> {
    const file = await this.#projects.find(uri);
    const document = this.#documents.get(uri);
    if (!file || !document) return none;
    takeText({ ...file, document });
    return answer({ ...file, document });
  }

  #at<Answer>(
    asked: {
      readonly textDocument: { readonly uri: string };
      readonly position: { readonly line: number; readonly character: number };
    },
    none: Answer,
    answer: (file: AskedFile, offset: number) => Answer | Promise<Answer>,
  ): Promise<Answer> {
    return this.#of(asked, none, (file) => answer(file, file.document.offsetAt(asked.position)));
  }

  #definition(file: AskedFile, offset: number): Location | null {
    const found = namedAt(file.project, file.path, offset);
    const place = found && definitionOf(file.project, found.named);
    return place ? this.#locate(file, place) : null;
  }

  #references(file: AskedFile, offset: number, withDefinition: boolean): Location[] {
    const found = namedAt(file.project, file.path, offset);
    if (!found) return [];
    const definition = definitionOf(file.project, found.named);
    const mentions = findMentions(file.project, found.named);
    const others = mentions.filter(
      ({ path, start }) => path !== definition?.path || start !== definition.start,
    );
    const places = withDefinition && definition ? [definition, ...others] : others;
    return places.map((place) => this.#locate(file, place));
  }

  #rename(file: AskedFile, offset: number, name: string): WorkspaceEdit {
    const found = renamableAt(file.project, file.path, offset);
    if (!found) throw new ResponseError(ErrorCodes.InvalidParams, 'there is no id of a block here');
    const renaming = renameBlock(file.project, found.named, name);
    if (!renaming.ok) throw new ResponseError(LSPErrorCodes.RequestFailed, renaming.reason);
    const changes: NonNullable<WorkspaceEdit['changes']> = {};
    for (const stretch of renaming.stretches) {
      const { uri, range } = this.#locate(file, stretch);
      changes[uri] = [...(changes[uri] ?? []), { range, newText: name }];
    }
    return { changes };
  }

  #fixes(file: AskedFile, asked: Range, { diagnostics }: EvaluationOutcome): CodeAction[] {
    const { project, path, document } = file;
    const uri = uriOf(project, path);
    return diagnostics
      .filter(({ position }) => position.file === path && touches(toRange(position), asked))
      .flatMap((found) => {
        const { start, end } = spanIn(document, toRange(found.position));
        return quickFixes(project, path, found, start, end).map((fix) => ({
          title: fix.title,
          kind: CodeActionKind.QuickFix,
          diagnostics: [toDiagnostic(found, (other) => uriOf(project, other))],
          edit: { changes: { [uri]: [{ range: rangeIn(document, fix), newText: fix.text }] } },
        }));
      });
  }

  /** A stretch of any file of a project, open or not. */
  #locate({ project }: AskedFile, { path, start, end }: Stretch): Location {
    const uri = uriOf(project, path);
    const document = this.#documents.get(uri) ?? TextDocument.create(uri, '', 0, project.textOf(path) ?? '');
    return { uri, range: rangeIn(document, { start, end }) };
  }
}

async function hover(file: AskedFile, offset: number, token: CancellationToken) {
  const { project, path, document } = file;
  const outcome = await Promise.race([
    currentOutcome(file, token).catch(() => undefined),
    new Promise<undefined>((done) => setTimeout(done, PATIENCE, undefined)),
  ]);
  const found = hoverAt(project, path, offset, outcome);
  if (!found) return null;
  return { contents: { kind: 'markdown' as const, value: found.text }, range: rangeIn(document, found) };
}

/** The outcome of the texts as they are when it is there; a request that is cancelled meanwhile waits no longer. */
async function currentOutcome(file: AskedFile, token: CancellationToken): Promise<EvaluationOutcome> {
  const cancelled = new Promise<never>((_, fail) => {
    token.onCancellationRequested(() =>
      fail(new ResponseError(LSPErrorCodes.RequestCancelled, 'the request was cancelled')),
    );
  });
  for (;;) {
    const outcome = await Promise.race([file.loop.current(), cancelled]);
    // While it was evaluated, typing may have gone on.
    takeText(file);
    if (file.project.isAsTold(file.path)) return outcome;
  }
}

/** The server has the text as soon as the editor has sent it, before whatever was told of the change has had its turn. */
function takeText({ project, loop, path, document }: AskedFile): void {
  if (project.hold(path, document.getText())) loop.touch();
}

function format(
  { project, path, document }: AskedFile,
  within?: { readonly start: number; readonly end: number },
) {
  return formatFile(project, path, within).map(({ text, ...span }) => ({
    range: rangeIn(document, span),
    newText: text,
  }));
}

function toSymbol(item: OutlineItem, document: TextDocument): DocumentSymbol {
  const { name, detail, is, start, end, nameEnd, items } = item;
  return {
    name,
    ...(detail === undefined ? {} : { detail }),
    kind: is === 'heading' ? SymbolKind.String : SymbolKind.Object,
    range: rangeIn(document, { start, end }),
    selectionRange: rangeIn(document, { start, end: Math.min(nameEnd, end) }),
    children: items.map((inner) => toSymbol(inner, document)),
  };
}

function rangeIn(
  document: TextDocument,
  { start, end }: { readonly start: number; readonly end: number },
): Range {
  return { start: document.positionAt(start), end: document.positionAt(end) };
}

function spanIn(
  document: TextDocument,
  { start, end }: Range,
): { readonly start: number; readonly end: number } {
  return { start: document.offsetAt(start), end: document.offsetAt(end) };
}

function touches(one: Range, other: Range): boolean {
  return one.start.line <= other.end.line && other.start.line <= one.end.line;
}
