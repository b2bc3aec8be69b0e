import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { type Position, Positions, type SourceTexts } from '../diagnostics/positions.ts';
import { type ReportedDiagnostic, reportDiagnostics } from '../diagnostics/report-diagnostics.ts';
import type { PagePart } from '../page/live-parts.ts';
import { fillTemplate } from '../page/templates.ts';
import type { GoodPage } from './live-project.ts';
import { mapLine } from './map-line.ts';
import type { PageSpot } from './page-places.ts';

/** So many are shown of one file; the rest is counted, for the first explain most of the others. */
const MOST_SHOWN = 12;

/** A diagnostic as the pages of the preview show it. */
export type FaultView = ReturnType<typeof viewFault>;

/** Errors first, each in the order of the source. */
export function faultsOf(diagnostics: readonly Diagnostic[], texts: SourceTexts): readonly FaultView[] {
  const positions = new Positions(texts);
  const ordered = (['error', 'caution'] as const).flatMap((severity) =>
    diagnostics.filter((diagnostic) => diagnostic.severity === severity),
  );
  return reportDiagnostics(ordered.slice(0, MOST_SHOWN), texts, positions).map((reported) =>
    viewFault(reported, positions),
  );
}

/** How many diagnostics `faultsOf` leaves out. */
export function countUnshown(diagnostics: readonly Diagnostic[]): number {
  return Math.max(0, diagnostics.length - MOST_SHOWN);
}

function viewFault(
  { severity, position, message, hint, related = [] }: ReportedDiagnostic,
  positions: Positions,
) {
  const line = positions.line(position.file, position.line) ?? '';
  const start = position.column - 1;
  return {
    severity,
    isError: severity === 'error',
    ...viewPosition(position),
    message,
    hint: hint ?? '',
    excerpt:
      line.trim() === ''
        ? null
        : {
            before: line.slice(0, start).trimStart(),
            marked: line.slice(start, start + position.length) || ' ',
            after: line.slice(start + position.length),
          },
    related: related.map((other) => ({ note: other.note, ...viewPosition(other.position) })),
  };
}

/** A place that a page leads to. */
function viewPosition({ file, line, column }: Position) {
  return { file: encodeURIComponent(file), fileName: file, line, column, place: `${file}:${line}` };
}

/** A fault with the element of the page at which it belongs. */
export interface PlacedFault {
  readonly spot: PageSpot;
  readonly html: string;
}

/** The faults of a note where they belong in its page, which may be that of an earlier text. */
export function placeFaults(
  faults: readonly FaultView[],
  {
    path,
    text,
    good,
    parts,
  }: {
    readonly path: string;
    readonly text: string | undefined;
    readonly good: GoodPage;
    readonly parts: readonly PagePart[];
  },
): readonly PlacedFault[] {
  const now = (text ?? '').split('\n');
  const then = (good.sound.texts.textOf(path) ?? '').split('\n');
  // Cautions about other files stand beside the page: it tells of void sign-offs itself.
  const shown = faults.filter(({ isError, fileName }) => isError || fileName === path);
  return shown.map((fault) => ({
    spot:
      fault.fileName === path
        ? good.places.atLine(mapLine(fault.line, now, then), parts)
        : { part: undefined },
    html: fillTemplate('preview-fault', fault),
  }));
}
