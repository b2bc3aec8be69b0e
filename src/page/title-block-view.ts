import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';
import { ROLES, type Role } from '../review/sign-off/roles.ts';
import type { Statement } from '../review/sign-off/statement.ts';
import { findState } from '../source/document-states.ts';
import type { Person, ProjectSource } from '../source/project-source.ts';
import { wordDays } from '../words/word-day.ts';
import type { ChangesSince } from './changes-view.ts';
import { viewDistribution } from './distribution-view.ts';
import { END_ID } from './ids.ts';
import type { PageImage } from './image-source.ts';
import { viewInkSignatures } from './ink-signatures-view.ts';
import { viewLetterhead } from './letterhead-view.ts';
import { capitalise, DASH } from './word-values.ts';

export interface TitleBlockOptions {
  /** The address that marks the place of a role's digital signature. */
  readonly fieldAddress?: (role: string) => string;
  /** The picture that project.yaml names for the letterhead. */
  readonly logo?: PageImage;
  /** Of a review copy: on what the title block of the earlier state rests. */
  readonly before?: ChangesSince['head'];
}

/** What says which document this is, whose, how it stands and who answers for it. */
export function viewTitleBlock(
  note: EvaluatedNote,
  project: ProjectSource,
  review: NoteReview,
  { fieldAddress, logo, before }: TitleBlockOptions,
) {
  const front = note.source.frontMatter;
  return {
    letterhead: viewLetterhead(project, logo),
    documentType: front.documentType,
    title: front.title,
    projectTitle: project.title,
    ...markFields(
      listFields(note.source, project, review),
      before && listFields(before, before.project, review),
    ),
    ink: viewInkSignatures(front, project),
    signatures: ROLES.map((role) => ({
      ...viewSignature(role, note, project, review.signOffs),
      field: fieldAddress?.(role) ?? '',
    })),
  };
}

type Field = readonly [label: string, value: string | undefined];

/** What a formal document needs and the author left out shows as a dash; what else is absent takes no room. */
function listFields(
  { frontMatter: front }: Pick<EvaluatedNote['source'], 'frontMatter'>,
  project: ProjectSource,
  { mark, issues }: NoteReview,
) {
  const issue = issues.find(({ revision }) => revision === front.revision);
  const state = findState(project, mark === 'none' ? front.status : mark);
  const always: readonly Field[] = [
    ['Document number', front.number],
    ['Revision', front.revision],
    ['Client', project.client],
    ['Site', project.site],
    ['Date of the note', wordDays(front.date, front.locale)],
    // The day that the register has, for the note may have been written for another.
    ['Date of issue', issue && wordDays(issue.date, front.locale)],
    ['Purpose of issue', wordPurposeOfIssue(findState(project, front.status).title, mark)],
    ['Document state', state.suitability ? `${state.title} (${state.suitability})` : state.title],
  ];
  const whereWritten: readonly Field[] = [
    ['Contract', project.contract],
    ['Client document number', front.clientDocumentNumber],
    ['Discipline', front.discipline],
    ['Classification', front.classification],
    ['Supersedes', front.supersedes],
    ['Affects', front.affects.join(', ')],
  ];
  const wide: readonly Field[] = [['Distribution', viewDistribution(front, project).line]];
  const isWritten = ([, value]: Field): boolean => value !== undefined && value !== '';
  const view = ([label, value]: Field) => ({ label, value: value || DASH, endId: '' });
  const pages = { label: 'Number of pages', value: '', endId: END_ID };
  const fields = [...[...always, ...whereWritten.filter(isWritten)].map(view), pages];
  const pairs = [];
  for (let i = 0; i < fields.length; i += 2) pairs.push({ left: fields[i]!, right: fields[i + 1] ?? null });
  return { pairs, wide: wide.filter(isWritten).map(view) };
}

/** Rows with a field that the earlier state did not have, or had otherwise; none without such a state. */
function markFields(
  { pairs, wide }: ReturnType<typeof listFields>,
  before: ReturnType<typeof listFields> | undefined,
) {
  const old = before && [...before.pairs.flatMap(({ left, right }) => [left, right]), ...before.wide];
  const isChanged = (field: (typeof wide)[number] | null) =>
    old !== undefined &&
    field !== null &&
    old.find((one) => one?.label === field.label)?.value !== field.value;
  return {
    pairs: pairs.map((pair) => ({ ...pair, changed: isChanged(pair.left) || isChanged(pair.right) })),
    wide: wide.map((field) => ({ ...field, changed: isChanged(field) })),
  };
}

/** A draft has been issued for nothing yet. */
export function wordPurposeOfIssue(title: string, mark: NoteReview['mark']): string {
  return mark === 'draft' ? `${title} (not yet issued)` : title;
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
    name: signOff?.statement?.name ?? person?.name ?? key ?? DASH,
    // Whoever has signed did so as what the sign-off says; the project says what the person is now.
    titles: titlesOf(signOff?.statement, person),
    date: signOff?.statement?.date ?? '',
    state: signOff?.state ?? 'missing',
    isVoid: signOff?.state === 'void',
  };
}

function titlesOf(statement: Statement | undefined, person: Person | undefined): string {
  const from = statement && statement.earlierForm === undefined ? statement : person;
  return [from?.designation, from?.registration].filter((one) => one !== undefined).join(', ');
}
