import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';
import { ROLES, type Role } from '../review/sign-off/roles.ts';
import type { Statement } from '../review/sign-off/statement.ts';
import { wordProof } from '../review/sign-off/word-sign-off.ts';
import { findState } from '../source/document-states.ts';
import type { Person, ProjectSource } from '../source/project-source.ts';
import { assumptionId, END_ID, holdId } from './ids.ts';
import { capitalise, DASH } from './word-values.ts';

export interface Software {
  readonly name: string;
  readonly version: string;
}

export interface CoverOptions {
  readonly software: Software;
  readonly digest: string;
  readonly fieldAddress?: (role: string) => string;
}

/** The cover sheet: title block, signatures, declarations, and what made the document. */
export function viewCover(
  note: EvaluatedNote,
  project: ProjectSource,
  review: NoteReview,
  { software, digest, fieldAddress }: CoverOptions,
) {
  const front = note.source.frontMatter;
  return {
    company: project.company?.name ?? '',
    department: project.company?.department ?? '',
    address: project.company?.address ?? '',
    documentType: front.documentType,
    title: front.title,
    projectTitle: project.title,
    fields: listFields(note, project, review),
    signatures: ROLES.map((role) => ({
      ...viewSignature(role, note, project, review.signOffs),
      field: fieldAddress?.(role) ?? '',
    })),
    declarations: listDeclarations(note),
    software: `${software.name} ${software.version}`,
    digest: groupDigits(digest),
    endId: END_ID,
  };
}

/** The title block in two columns. What a formal document needs and the author left out shows as a dash. */
function listFields(
  { source: { frontMatter: front } }: EvaluatedNote,
  project: ProjectSource,
  { mark, issues }: NoteReview,
) {
  const issue = issues.find(({ revision }) => revision === front.revision);
  const state = findState(project, mark === 'none' ? front.status : mark);
  const fields: readonly (readonly [string, string | undefined])[] = [
    ['Document number', front.number],
    ['Revision', front.revision],
    ['Project', project.title],
    ['Purpose of issue', findState(project, front.status).title],
    ['Client', project.client],
    ['Document state', state.title],
    ['Site', project.site],
    ['Suitability', state.suitability],
    ['Contract', project.contract],
    ['Date of the note', front.date],
    ['Client document number', front.clientDocumentNumber],
    // The day that the register has, for the note may have been written for another.
    ['Date of issue', issue?.date],
    ['Discipline', front.discipline],
    ['Classification', front.classification],
  ];
  const wide: readonly (readonly [string, string | undefined])[] = [
    ['Distribution', front.distribution.join(', ')],
    ['Language', front.locale],
  ];
  const view = ([label, value]: readonly [string, string | undefined]) => ({ label, value: value || DASH });
  const pairs = [];
  for (let i = 0; i < fields.length; i += 2)
    pairs.push({ left: view(fields[i]!), right: view(fields[i + 1]!) });
  return { pairs, wide: wide.map(view) };
}

function viewSignature(
  role: Role,
  { source: { frontMatter } }: EvaluatedNote,
  project: ProjectSource,
  signOffs: readonly SignOff[],
) {
  const signOff = signOffs.find((one) => one.role === role);
  const key = signOff?.statement?.by ?? frontMatter[role];
  const person = project.people.find((one) => one.key === key);
  return {
    role: capitalise(role),
    name: person?.name ?? key ?? DASH,
    // Whoever has signed did so as what the sign-off says; the project says what the person is now.
    ...titlesOf(signOff?.statement, person),
    date: signOff?.statement?.date ?? '',
    state: signOff?.state ?? 'missing',
    isVoid: signOff?.state === 'void',
    proof: [signOff?.reason, ...(signOff ? wordProof(signOff) : [])]
      .filter((part) => part !== undefined)
      .join('; '),
  };
}

function titlesOf(statement: Statement | undefined, person: Person | undefined) {
  const from = statement && statement.earlierForm === undefined ? statement : person;
  return { designation: from?.designation ?? DASH, registration: from?.registration ?? DASH };
}

function listDeclarations({ source }: EvaluatedNote) {
  const holds = source.holds.filter(({ state }) => state === 'open');
  const assumptions = source.assumptions.filter(({ state }) => state === 'to be confirmed');
  const { supersedes, affects } = source.frontMatter;
  return [
    declare(
      'Open points',
      holds.map(({ id }) => ({ text: id, target: holdId(id) })),
    ),
    declare(
      'Assumptions to be verified',
      assumptions.map(({ id }) => ({ text: id, target: assumptionId(id) })),
    ),
    declare('Supersedes another document', supersedes ? [{ text: supersedes, target: '' }] : []),
    declare(
      'Affects other documents',
      affects.map((text) => ({ text, target: '' })),
    ),
  ];
}

function declare(question: string, items: readonly { readonly text: string; readonly target: string }[]) {
  return { question, answer: items.length > 0 ? 'yes' : 'no', items };
}

/** A digest in groups of eight, so that it can be compared by eye and broken over lines. */
export function groupDigits(digest: string): string {
  return digest.replace(/([0-9a-f]{8})(?=[0-9a-f])/gi, '$1 ');
}
