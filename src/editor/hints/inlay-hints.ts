import { factsOf, valueOfTarget } from '../describe/hover.ts';
import type { BlockFacts, CheckFact, EvaluationOutcome } from '../evaluation/outcome.ts';
import { listSites } from '../names/list-sites.ts';
import { partsOf } from '../names/named.ts';
import type { Reading } from '../project/reading.ts';

/** Words that an editor shows behind what is written. */
export interface InlayHint {
  readonly offset: number;
  readonly label: string;
  /** Markdown. */
  readonly about?: string;
}

/**
 * Behind the id of each block its verdict, behind each reference its value, within a stretch of a note.
 *
 * @param outcome what came of the texts as they are now
 */
export function inlayHints(
  reading: Reading,
  path: string,
  { start, end }: { readonly start: number; readonly end: number },
  outcome: EvaluationOutcome,
): InlayHint[] {
  const text = reading.textOf(path) ?? '';
  return listSites(reading, path)
    .filter((site) => site.start >= start && site.end <= end)
    .flatMap((site): InlayHint[] => {
      if (site.is === 'own id') {
        const facts = factsOf(outcome, path, site.text);
        const label = facts && wordVerdict(facts);
        return label ? [{ offset: lineEnd(text, site.end), label, about: verdictLines(facts) }] : [];
      }
      if (site.is !== 'target') return [];
      const value = valueAt(reading, path, site.text, partsOf(reading, site), outcome);
      return value === undefined ? [] : [{ offset: behindBraces(text, site.end), label: `= ${value}` }];
    });
}

function valueAt(
  reading: Reading,
  path: string,
  target: string,
  parts: ReturnType<typeof partsOf>,
  outcome: EvaluationOutcome,
): string | undefined {
  const named = parts.at(-1)?.named;
  if (named?.is === 'entry') {
    const value = reading.project?.register.get(named.entry)?.value;
    return value?.type === 'scalar' ? value.text : undefined;
  }
  const shown = outcome.notes.get(path)?.prose.get(target);
  if (shown !== undefined) return shown;
  if (named?.is !== 'value') return undefined;
  return valueOfTarget(reading, named.note, `${named.id}.${named.name}`, outcome);
}

/** What is not met or open, the gravest first; where nothing is, that everything is met. */
function wordVerdict({ checks, rows }: BlockFacts): string {
  if (rows) return rows.join('; ');
  const adverse = checks.filter((check) => gravity(check) > 0).sort((a, b) => gravity(b) - gravity(a));
  if (adverse.length > 0)
    return adverse.map(({ name, verdictWords }) => `${name}: ${verdictWords}`).join('; ');
  const words = [...new Set(checks.map(({ verdictWords }) => verdictWords))].join(', ');
  return checks.length > 1 ? `${words} (all ${checks.length} checks)` : words;
}

/** A requirement is graver than a recommendation, and what is not met than what cannot be judged. */
function gravity({ verdict, requirement }: CheckFact): number {
  if (verdict === 'complies' || verdict === 'met') return 0;
  return (requirement ? 3 : 1) + (verdict === 'cannot-be-judged' ? 0 : 1);
}

function verdictLines({ checks, rows }: BlockFacts): string {
  return [...checks.map(({ line }) => `- ${line}`), ...(rows ?? [])].join('\n');
}

function lineEnd(text: string, offset: number): number {
  const end = text.indexOf('\n', offset);
  const stop = end < 0 ? text.length : end;
  return offset + text.slice(offset, stop).trimEnd().length;
}

/** Behind the braces in which a reference stands, if it does. */
function behindBraces(text: string, offset: number): number {
  return offset + (/^[ \t]*\}\}?/.exec(text.slice(offset))?.[0].length ?? 0);
}
