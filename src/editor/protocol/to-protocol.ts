import {
  type CompletionItem,
  CompletionItemKind,
  type Diagnostic,
  DiagnosticSeverity,
  type Range,
} from 'vscode-languageserver/node';
import type { Position } from '../../diagnostics/positions.ts';
import type { Offer } from '../complete/offer.ts';
import type { FoundDiagnostic } from '../evaluation/outcome.ts';

const ITEM_KINDS: Readonly<Record<Offer['sort'], CompletionItemKind>> = {
  key: CompletionItemKind.Property,
  name: CompletionItemKind.Variable,
  option: CompletionItemKind.EnumMember,
  unit: CompletionItemKind.Unit,
  value: CompletionItemKind.Value,
  reference: CompletionItemKind.Reference,
  calculation: CompletionItemKind.Function,
  file: CompletionItemKind.File,
  kind: CompletionItemKind.Keyword,
};

/** An offer as an editor takes it; `rangeOf` makes lines and columns of offsets. */
export function toCompletionItem(
  offer: Offer,
  index: number,
  rangeOf: (start: number, end: number) => Range,
): CompletionItem {
  const { label, sort, insert = label, detail, about, start, end, goesOn } = offer;
  return {
    label,
    kind: ITEM_KINDS[sort],
    ...(detail === undefined ? {} : { detail }),
    ...(about === undefined ? {} : { documentation: { kind: 'markdown', value: about } }),
    // Editors sort by this text, and not by the order of the list.
    sortText: String(index).padStart(5, '0'),
    filterText: insert.trim(),
    textEdit: { range: rangeOf(start, end), newText: insert },
    // An editor that does not know the command asks again when the next character is typed.
    ...(goesOn ? { command: { title: 'go on', command: 'editor.action.triggerSuggest' } } : {}),
  };
}

/** A diagnostic in the words of the command line; `uriOf` names the files of what is related. */
export function toDiagnostic(found: FoundDiagnostic, uriOf: (file: string) => string): Diagnostic {
  const { severity, code, position, message, hint, related } = found;
  return {
    range: toRange(position),
    severity: severity === 'error' ? DiagnosticSeverity.Error : DiagnosticSeverity.Warning,
    code,
    source: 'surgenote',
    message: hint === undefined ? message : `${message}\n${hint}`,
    ...(related
      ? {
          relatedInformation: related.map((other) => ({
            location: { uri: uriOf(other.position.file), range: toRange(other.position) },
            message: other.note,
          })),
        }
      : {}),
  };
}

/** Lines and columns from 0, columns in UTF-16 units as they are here too. */
export function toRange({ line, column, length }: Position): Range {
  return {
    start: { line: line - 1, character: column - 1 },
    end: { line: line - 1, character: column - 1 + length },
  };
}
