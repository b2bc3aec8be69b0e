import { type Basis, sayBasis, sayClause } from '../engine/definition/basis.ts';
import { SOURCES, type Source, type SourceKey } from '../engine/sources.ts';
import {
  listClauses,
  openClauses,
  type RestingBlock,
  type UsedClause,
} from '../review/clauses/list-clauses.ts';
import type { DocumentReference } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { Text } from '../words/sentence.ts';
import type { Words } from '../words/words.ts';
import { referenceId, sourceId } from './ids.ts';
import { linkPhrases, type Phrase } from './link-phrases.ts';
import { textHtml } from './text-html.ts';

/** A source on which calculations rest, with the clauses that they name. */
export interface UsedSource {
  readonly key: SourceKey;
  readonly source: Source;
  readonly clauses: readonly UsedClause[];
}

/** Everything that a clause or a reference in the document can lead to. */
export interface ReferenceList {
  readonly sources: readonly UsedSource[];
  readonly references: readonly DocumentReference[];
  readonly phrases: readonly Phrase[];
  /** Clauses from memory that nobody has compared with the text, as `clauseKey` names them. */
  readonly open: readonly string[];
}

/**
 * Gathers the sources in the order in which the calculations first name them.
 *
 * @param references those that the author lists
 */
export function collectReferences(
  blocks: readonly RestingBlock[],
  references: readonly DocumentReference[],
  project: Pick<ProjectSource, 'sourcesConfirmed'>,
): ReferenceList {
  const clauses = listClauses(blocks, project);
  const sources = [...new Set(clauses.map(({ source }) => source))].map((key) => ({
    key,
    source: SOURCES[key] as Source,
    clauses: clauses.filter(({ source }) => source === key),
  }));
  const open = openClauses(clauses).map(clauseKey);
  return { sources, references, phrases: listPhrases(sources, references), open };
}

function clauseKey({ source, clause }: Pick<UsedClause, 'source' | 'clause'>): string {
  return `${source} ${clause}`;
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

/** On what something rests, as HTML: a source leads to its entry in the list; a clause that must still be compared has a dagger. */
export function basisHtml(
  basis: Basis,
  {
    references,
    words,
  }: { readonly references: Pick<ReferenceList, 'phrases' | 'open'>; readonly words: Words },
): string {
  const linked = (text: Text) => linkPhrases(words.word(text), references.phrases);
  if (basis.kind !== 'source') return linked(sayBasis(basis));
  const { designation } = SOURCES[basis.source];
  const mark = references.open.includes(clauseKey(basis)) ? DAGGER : '';
  const name =
    `<a href="#${sourceId(basis.source)}">${designationHtml(designation)}, ` +
    `${textHtml(basis.clause)}${mark}</a>`;
  return basis.known.by === 'quotation' ? `${name}${linked(sayClause('', basis.known))}` : name;
}

/** The designation of a standard stays on one line; the title of a paper, which is longer, may be broken. */
function designationHtml(designation: string): string {
  const text = textHtml(designation);
  return designation.length > LONGEST_DESIGNATION ? text : `<span class="designation">${text}</span>`;
}

const LONGEST_DESIGNATION = 36;

/** Behind a clause that is quoted from memory; read aloud as its name, and explained where the clauses are listed. */
const DAGGER = '†';
