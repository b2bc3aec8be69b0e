import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { EvaluatedSubmittal } from '../../evaluation/submittal/evaluated-submittal.ts';
import {
  type CaseTally,
  judgedCases,
  requirementsComply,
  tallyVerdicts,
} from '../../evaluation/tally-verdicts.ts';
import { sayVerdict } from '../../evaluation/word-calculation.ts';
import type { NoteReview } from '../../review/sign-off/note-review.ts';
import { ROLES } from '../../review/sign-off/roles.ts';
import type { SubmittalReview } from '../../review/sign-off/submittal-review.ts';
import { wordProof } from '../../review/sign-off/word-sign-off.ts';
import { findState } from '../../source/document-states.ts';
import type { FrontMatter } from '../../source/note-source.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { wordDays } from '../../words/word-day.ts';
import type { Words } from '../../words/words.ts';
import { viewAssumptions, viewHolds } from '../annex-views.ts';
import { caseTitle } from '../case-titles.ts';
import { viewDistribution } from '../distribution-view.ts';
import type { PageImage } from '../image-source.ts';
import { viewInkSignatures } from '../ink-signatures-view.ts';
import { viewLetterhead } from '../letterhead-view.ts';
import type { ScheduleVerdict } from '../schedule/schedule-verdicts.ts';
import { wordPurposeOfIssue } from '../title-block-view.ts';
import { viewVerdicts } from '../verdicts-view.ts';
import { wordTally } from '../word-tally.ts';
import { capitalise, DASH } from '../word-values.ts';
import { scopedId } from './scope-ids.ts';
import type { PartContext } from './submittal-context.ts';

type Field = readonly [label: string, value: string | undefined];

/** The title block of the document, and the list of its notes. */
export function viewSubmittalCover(
  { source }: EvaluatedSubmittal,
  parts: readonly PartContext[],
  project: ProjectSource,
  { mark, issues }: SubmittalReview,
  logo: PageImage | undefined,
) {
  const { frontMatter: front, recipient } = source;
  const issue = issues.find(({ revision }) => revision === front.revision);
  const state = findState(project, mark === 'none' ? front.status : mark);
  const fields: readonly Field[] = [
    ['Document number', front.number],
    ['Revision', front.revision],
    ['Recipient', recipient],
    ['Date', wordDays(front.date, front.locale)],
    ['Purpose of issue', wordPurposeOfIssue(findState(project, front.status).title, mark)],
    // The day that the register has.
    ['Date of issue', issue && wordDays(issue.date, front.locale)],
    ['Document state', state.title],
    ['Suitability', state.suitability],
    ['Client', project.client],
    ['Contract', project.contract],
    ['Site', project.site],
    ['Classification', front.classification],
    ['Client document number', front.clientDocumentNumber],
    ['Supersedes', front.supersedes],
    ['Distribution', viewDistribution(front, project).line],
  ];
  return {
    letterhead: viewLetterhead(project, logo),
    documentType: front.documentType,
    title: front.title,
    projectTitle: project.title,
    pairs: pairFields(fields),
    notes: parts.map((part) => viewListed(part, project)),
  };
}

/** Fields that say something, two in a row. */
function pairFields(fields: readonly Field[]) {
  const said = fields.flatMap(([label, value]) => (value ? [{ label, value }] : []));
  return said.flatMap((left, i) => (i % 2 === 0 ? [{ left, right: said[i + 1] ?? null }] : []));
}

/** One note in the list on the cover. */
function viewListed({ label, title, headingId, context, review }: PartContext, project: ProjectSource) {
  const { frontMatter } = context.note.source;
  const state = findState(project, frontMatter.status);
  return {
    label,
    title,
    target: headingId,
    number: frontMatter.number,
    revision: frontMatter.revision,
    date: frontMatter.date,
    status: [state.title, ...(state.suitability === undefined ? [] : [state.suitability])].join(', '),
    signOffs: wordSignOffs(review),
    isVoid: review.signOffs.some((signOff) => signOff.state === 'void'),
    verdicts: wordRequirements(context.note),
  };
}

/** What is said of the requirements of a note in short, case by case. */
function wordRequirements(note: EvaluatedNote) {
  const tallies = tallyVerdicts(judgedCases(note)).filter(({ requirement }) => requirement.total > 0);
  if (tallies.length === 0) return [{ text: 'no requirement is judged', noticed: false }];
  return tallies.map((tally) => {
    const { case: ofCase, required, requirement } = tally;
    const words = wordTally({ requirement, recommendation: { total: 0, counts: [] } });
    return {
      text: ofCase === undefined ? words : `${caseTitle(ofCase)}: ${words}`,
      noticed: required && !requirementsComply([tally]),
    };
  });
}

/** How a note is signed, in short. */
export function wordSignOffs({ signOffs }: NoteReview): string {
  const roles = (state: string) => signOffs.filter((one) => one.state === state).map(({ role }) => role);
  const isVoid = roles('void');
  if (isVoid.length > 0) return `void: ${isVoid.join(', ')}`;
  const valid = roles('valid');
  return valid.length === 0 ? 'not signed' : valid.join(', ');
}

/** What a note says of itself where it begins: its own number, history and sign-offs. */
export function viewNoteHead({ context, review }: PartContext, project: ProjectSource) {
  const { note } = context;
  const { frontMatter: front } = note.source;
  const state = findState(project, front.status);
  const fields: readonly Field[] = [
    ['Document number', front.number],
    ['Revision', front.revision],
    ['Date of the note', wordDays(front.date, front.locale)],
    ['Purpose of issue', state.title],
    ['Suitability', state.suitability],
    ['Client document number', front.clientDocumentNumber],
    ['Discipline', front.discipline],
    ['Supersedes', front.supersedes],
    ['Affects', front.affects.join(', ')],
    ['Issued by itself', wordDays(wordOwnIssues(review), front.locale)],
  ];
  return {
    ownTitle: front.title,
    ink: viewInkSignatures(front, project),
    pairs: pairFields(fields),
    signatures: ROLES.map((role) => viewSignature(role, front, review, project)),
  };
}

function wordOwnIssues({ issues }: NoteReview): string {
  return issues
    .map(({ revision, date, withdrawal }) => {
      const after = withdrawal ? `, withdrawn ${withdrawal.date}` : '';
      return `revision ${revision}, ${date}${after}`;
    })
    .join('; ');
}

function viewSignature(
  role: (typeof ROLES)[number],
  front: FrontMatter,
  { signOffs }: NoteReview,
  { people }: ProjectSource,
) {
  const signOff = signOffs.find((one) => one.role === role);
  const { statement } = signOff ?? {};
  const key = statement?.by ?? front[role];
  const person = people.find((one) => one.key === key);
  // Whoever has signed did so as what the sign-off says; the project says what the person is now.
  const titles = statement && statement.earlierForm === undefined ? statement : person;
  return {
    role: capitalise(role),
    name: statement?.name ?? person?.name ?? key ?? DASH,
    designation: titles?.designation ?? DASH,
    registration: titles?.registration ?? DASH,
    date: statement?.date ?? '',
    state: signOff?.state ?? 'missing',
    isVoid: signOff?.state === 'void',
    proof: [signOff?.reason, ...(signOff ? wordProof(signOff) : [])]
      .filter((part) => part !== undefined)
      .join('; '),
  };
}

/** Verdicts of all notes: how many by note and case, and each that a reader must not overlook. */
export function viewAllVerdicts(parts: readonly PartContext[], words: Words) {
  const tallies = parts.flatMap(({ label, title, headingId, context }) =>
    tallyVerdicts(judgedCases(context.note)).map((tally, i) => ({
      note: i === 0 ? { id: headingId, label, title } : null,
      caseTitle: caseTitle(tally.case),
      required: tally.required,
      ...viewCounts(tally),
    })),
  );
  const [first] = parts.flatMap(({ context }) => tallyVerdicts(judgedCases(context.note)));
  const titles = (force: 'requirement' | 'recommendation') =>
    first?.[force].counts.map(({ verdict }) => words.word(sayVerdict(verdict))) ?? [];
  const open = parts.flatMap(({ label, title, headingId, scope, context }) => {
    const verdicts = viewVerdicts(context);
    const calculations = verdicts.groups.flatMap((group) => {
      const rows = group.rows.filter(({ noticed }) => noticed);
      if (rows.length === 0) return [];
      const scoped = rows.map((row) => ({ ...row, target: scopedId(scope, row.target) }));
      return [
        { ...group, number: `Calculation ${group.number}`, id: scopedId(scope, group.id), rows: scoped },
      ];
    });
    const schedules = verdicts.schedules
      .filter(({ noticed }) => noticed)
      .map((one) => ({ ...one, id: scopedId(scope, one.id), rows: [viewRows(one, scope)] }));
    const groups = [...calculations, ...schedules];
    return groups.length > 0 ? [{ id: headingId, label, title, groups }] : [];
  });
  return {
    tallies,
    requirementTitles: titles('requirement'),
    recommendationTitles: titles('recommendation'),
    open,
  };
}

function viewCounts({ requirement, recommendation }: CaseTally) {
  const counts = ({ counts: all }: CaseTally['requirement']) => all.map(({ count }) => ({ count }));
  return { requirements: counts(requirement), recommendations: counts(recommendation) };
}

/** The assumptions and open points of all notes, by note; each is set out where its author has put it. */
export function viewAllRegisters(parts: readonly PartContext[]) {
  const list = <T extends { readonly id: string }>(view: (part: PartContext) => readonly T[]) =>
    parts.flatMap((part) => {
      const rows = view(part).map((row) => ({ ...row, id: scopedId(part.scope, row.id) }));
      return rows.length > 0 ? [{ target: part.headingId, label: part.label, title: part.title, rows }] : [];
    });
  return {
    assumptions: list(({ context }) =>
      viewAssumptions(context.note.source.assumptions, context.note.source.frontMatter.locale),
    ),
    holds: list(({ context }) =>
      viewHolds(context.note.source.holds, context.note.source.frontMatter.locale),
    ),
  };
}

/** The rows of a schedule in one line of a table of verdicts. */
function viewRows({ id, counts, at, least, margin, verdict }: ScheduleVerdict, scope: string) {
  return {
    target: scopedId(scope, id),
    criterion: at === '' ? counts : `${counts}; ${least} at ${at}`,
    isRecommendation: false,
    value: '',
    limit: '',
    margin,
    verdict,
  };
}
