import { createHash } from 'node:crypto';
import { unifyEnd } from '../diagnostics/text-lines.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { findState } from '../source/document-states.ts';
import type { Person, ProjectSource, SourceConfirmation } from '../source/project-source.ts';
import { listClauses } from './clauses/list-clauses.ts';
import { restingBlocks } from './clauses/resting-blocks.ts';
import { listHouseFacts } from './house-facts.ts';
import { listRowFacts } from './schedule/digest-rows.ts';

/** One file of a project as it was read. */
export interface SourceFile {
  /** Relative to the project, with forward slashes. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** SHA-256, hexadecimal. */
export function sha256(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}

/** A drawing or table is text: other line ends, as a checkout may give it, are no change. */
const TEXTS = /\.(?:svg|csv|txt)$/i;

function contentOf({ path, bytes }: SourceFile): string | Uint8Array {
  // Byte for character, so that no two contents become one.
  return TEXTS.test(path) ? canonicalText(Buffer.from(bytes).toString('latin1')) : bytes;
}

/** The digest of everything that a note rests on; see `writeSourceForm`. */
export function digestSources(
  note: EvaluatedNote,
  project: ProjectSource,
  files: readonly SourceFile[],
): string {
  return sha256(writeSourceForm(note, project, files));
}

/** The same as up to version 0.2.0: with designation and registration of the people whom the note names. */
export function digestSourcesEarlier(
  note: EvaluatedNote,
  project: ProjectSource,
  files: readonly SourceFile[],
): string {
  return sha256(writeSourceForm(note, project, files, { earlier: true }));
}

/**
 * What a note rests on, in one form whatever the editor or the system: the note, its images, and of project.yaml what the
 * note uses or prints - title, client, owner, the state that the note names, names of the people whom it names, the entries of the register,
 * who has compared which of its clauses, and what it prints of letterhead, distribution and kind of signatures. One fact a line,
 * each a line of JSON. What else stands in the project is no part of it, nor are sign-offs and issues: a person may become something
 * else, and has signed as what the sign-off says.
 */
export function writeSourceForm(
  note: EvaluatedNote,
  project: ProjectSource,
  files: readonly SourceFile[],
  { earlier = false }: { readonly earlier?: boolean } = {},
): string {
  const { path, text } = note.source;
  const used = [...note.usedRegister.keys()].sort();
  // What a schedule reads of a table counts, however the table is written.
  const tables = new Set(note.schedules.map(({ file }) => file.path));
  const registers = [project.file, ...(project.includes ?? [])];
  const items = [...project.itemTitles].filter(([item]) => used.some((one) => one.startsWith(`${item}.`)));
  const facts: (readonly unknown[])[] = [
    ['project', project.title, project.client, project.site, project.contract ?? ''],
    ['owner', project.company?.name ?? '', project.company?.address ?? '', project.company?.department ?? ''],
    ...listHouseFacts(note.source.frontMatter, project),
    ...(project.documentStates ? [['state', ...wordState(note, project)]] : []),
    ...namedPeople(note, project).map((person) => [
      'person',
      person.key,
      person.name,
      ...(earlier ? [person.designation ?? '', person.registration ?? ''] : []),
      person.initials ?? '',
    ]),
    ...items.sort(([a], [b]) => (a < b ? -1 : 1)).map(([item, title]) => ['item', item, title]),
    ...used.map((entry) => ['entry', entry, wordEntry(project, entry), ...fileOfEntry(project, entry)]),
    ...listClauses(restingBlocks(note), project).flatMap(({ confirmed }) =>
      confirmed ? [wordConfirmation(project, confirmed)] : [],
    ),
    ...note.schedules.flatMap(listRowFacts),
    ...files
      .filter((file) => file.path !== path && !registers.includes(file.path) && !tables.has(file.path))
      .map((file) => ['file', file.path, sha256(contentOf(file))])
      .sort(([, a], [, b]) => (a! < b! ? -1 : 1)),
    ['note', path, sha256(canonicalText(text))],
  ];
  return `${facts.map((fact) => JSON.stringify(fact)).join('\n')}\n`;
}

/** The same text whatever the ends of its lines, a byte order mark or blank lines at its end. */
function canonicalText(text: string): string {
  return unifyEnd(text.replace(/^\uFEFF/, ''));
}

function wordEntry(project: ProjectSource, path: string): readonly string[] {
  const entry = project.register.get(path);
  return entry?.value.type === 'scalar' ? [entry.value.text, entry.source ?? ''] : [];
}

/** Where an entry stands that project.yaml does not hold itself: the document names that file as its source. */
function fileOfEntry(project: ProjectSource, path: string): readonly string[] {
  const file = project.register.get(path)?.place.file;
  return file === undefined || file === project.file ? [] : [file];
}

/** Who has compared a clause on which the note rests with its text. */
function wordConfirmation(
  { people }: ProjectSource,
  { source, clause, by, date, note }: SourceConfirmation,
): readonly string[] {
  const name = people.find(({ key }) => key === by)?.name ?? by;
  return ['clause', source, clause, name, date, note ?? ''];
}

/** The purpose of issue as the project calls it. */
function wordState({ source }: EvaluatedNote, project: ProjectSource): readonly string[] {
  const { key, title, suitability } = findState(project, source.frontMatter.status);
  return [key, title, suitability ?? ''];
}

/** The people whom the note names, by their keys. */
function namedPeople({ source: { frontMatter } }: EvaluatedNote, project: ProjectSource): readonly Person[] {
  const named = [frontMatter, ...frontMatter.revisions].flatMap(({ prepared, checked, approved }) => [
    prepared,
    checked,
    approved,
  ]);
  return project.people.filter(({ key }) => named.includes(key)).sort((a, b) => (a.key < b.key ? -1 : 1));
}
