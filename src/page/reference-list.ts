import { type Basis, type Knowledge, sayBasis, sayClause } from '../engine/definition/basis.ts';
import { SOURCES, type Source, type SourceKey } from '../engine/sources.ts';
import type { WordedBlock } from '../evaluation/evaluated-note.ts';
import type { DocumentReference } from '../source/note-source.ts';
import type { Text } from '../words/sentence.ts';
import type { Words } from '../words/words.ts';
import { referenceId, sourceId } from './ids.ts';
import { linkPhrases, type Phrase } from './link-phrases.ts';
import { textHtml } from './text-html.ts';

/** A source on which calculations rest, with the clauses that they name. */
export interface UsedSource {
  readonly key: SourceKey;
  readonly source: Source;
  readonly clauses: readonly { readonly text: string; readonly known: Knowledge }[];
}

/** Everything that a clause or a reference in the document can lead to. */
export interface ReferenceList {
  readonly sources: readonly UsedSource[];
  readonly references: readonly DocumentReference[];
  readonly phrases: readonly Phrase[];
}

/**
 * Gathers the sources in the order in which the calculations first name them.
 *
 * @param references those that the author lists
 */
export function collectReferences(
  blocks: readonly WordedBlock[],
  references: readonly DocumentReference[],
): ReferenceList {
  const used = new Map<SourceKey, Map<string, Knowledge>>();
  for (const basis of blocks.flatMap(basesOf)) {
    if (basis.kind !== 'source') continue;
    const clauses = used.get(basis.source) ?? new Map<string, Knowledge>();
    const before = clauses.get(basis.clause);
    if (before?.by !== 'memory') clauses.set(basis.clause, basis.known);
    used.set(basis.source, clauses);
  }
  const sources = [...used].map(([key, clauses]) => ({
    key,
    source: SOURCES[key] as Source,
    clauses: [...clauses].map(([text, known]) => ({ text, known })),
  }));
  return { sources, references, phrases: listPhrases(sources, references) };
}

function basesOf({ evaluated }: WordedBlock): Basis[] {
  return [
    ...evaluated.givens.flatMap(({ basis }) => basis ?? []),
    ...evaluated.steps.map((step) => step.basis),
    ...evaluated.checks.map((check) => check.basis),
    ...evaluated.cautions.flatMap((caution) => (caution.basis ? [caution.basis] : [])),
  ];
}

/** A source is named by its designation; a reference of the author's also by its id in square brackets. */
function listPhrases(sources: readonly UsedSource[], references: readonly DocumentReference[]): Phrase[] {
  return [
    ...references.map(({ id }) => ({ text: `[${id}]`, target: referenceId(id) })),
    ...references.flatMap(({ id, designation }) =>
      designation ? [{ text: designation, target: referenceId(id) }] : [],
    ),
    ...sources.map(({ key, source }) => ({ text: source.designation, target: sourceId(key) })),
  ];
}

/** On what something rests, as HTML: a source leads to its entry in the list. */
export function basisHtml(
  basis: Basis,
  { references, words }: { readonly references: Pick<ReferenceList, 'phrases'>; readonly words: Words },
): string {
  const linked = (text: Text) => linkPhrases(words.word(text), references.phrases);
  if (basis.kind !== 'source') return linked(sayBasis(basis));
  const { designation } = SOURCES[basis.source];
  const name =
    `<a href="#${sourceId(basis.source)}"><span class="designation">${textHtml(designation)}</span>, ` +
    `${textHtml(basis.clause)}</a>`;
  return `${name}${linked(sayClause('', basis.known))}`;
}
