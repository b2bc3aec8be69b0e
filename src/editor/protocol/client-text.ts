import type {
  Range,
  TextDocumentContentChangeEvent,
  TextDocumentsConfiguration,
} from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';

/**
 * How the texts of an editor are kept. A place beyond the text is the end of it, and one beyond a line the end of that (LSP 3.17, "Position"):
 * the library finds that offset, but goes on to count lines with the number that was sent, wrongly or without end.
 */
export const CLIENT_TEXT: TextDocumentsConfiguration<TextDocument> = {
  create: TextDocument.create,
  update: (document, changes, version) =>
    changes.reduce((text, change) => TextDocument.update(text, [placed(text, change)], version), document),
};

function placed(
  document: TextDocument,
  change: TextDocumentContentChangeEvent,
): TextDocumentContentChangeEvent {
  if (!('range' in change)) return change;
  const at = (position: Range['start']): Range['start'] => document.positionAt(document.offsetAt(position));
  return { range: { start: at(change.range.start), end: at(change.range.end) }, text: change.text };
}
