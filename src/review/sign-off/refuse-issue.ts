import { SOURCES } from '../../engine/sources.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { FrontMatter } from '../../source/note-source.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { listClauses, openClauses } from '../clauses/list-clauses.ts';
import { restingBlocks } from '../clauses/resting-blocks.ts';
import { findReviewContradictions } from './find-contradictions.ts';
import { findFormalGaps } from './formal-gaps.ts';
import type { NoteReview } from './note-review.ts';
import type { Refusal } from './prepare-statement.ts';

/** What stands against withdrawing an issue; undefined where nothing does. */
export function refuseWithdrawal(
  issues: NoteReview['issues'],
  { number, revision, date, reason }: Record<'number' | 'revision' | 'date' | 'reason', string>,
): Refusal | undefined {
  const last = issues.at(-1);
  const own = issues.find((issue) => issue.revision === revision);
  if (reason === '')
    return { what: 'a withdrawal needs its reason', hint: 'say with --reason why the issue counts no more' };
  if (!last) return { what: `${number} has not been issued`, hint: 'what was never issued is not withdrawn' };
  if (!own) {
    const known = issues.map((issue) => issue.revision).join(', ');
    return { what: `revision ${revision} of ${number} has not been issued`, hint: `issued were: ${known}` };
  }
  if (own.withdrawal) {
    return {
      what: `revision ${revision} of ${number} was withdrawn on ${own.withdrawal.date}`,
      hint: 'there is nothing to withdraw',
    };
  }
  if (own !== last) {
    return {
      what: `revision ${revision} of ${number} is superseded by revision ${last.revision}`,
      hint: 'it counts no more: only the current issue is withdrawn',
    };
  }
  if (date < own.date) {
    return {
      what: `${date} lies before the issue of ${own.date}`,
      hint: 'write the day of the withdrawal with --date',
    };
  }
  return undefined;
}

/** Clauses that a refusal names before it counts the rest. */
const NAMED = 5;

/** Everything that stands against issuing a note on a day. */
export function refuseIssue(
  note: EvaluatedNote,
  project: ProjectSource,
  review: NoteReview,
  date: string,
): readonly Refusal[] {
  const { signOffs, issues, restsOn = [] } = review;
  const { frontMatter, holds } = note.source;
  const refusals: Refusal[] = [
    ...findFormalGaps(note, project),
    ...findReviewContradictions(note, project, review),
  ];
  for (const { role, state, reason, statement } of signOffs) {
    if (state === 'missing') {
      refusals.push({
        what: `the sign-off '${role}' is missing`,
        hint: `surgenote sign ${note.source.path} --as ${role}`,
      });
    } else if (state === 'void') {
      refusals.push({
        what: `the sign-off '${role}' is void: ${reason}`,
        hint: `let it be checked and signed again: surgenote sign ${note.source.path} --as ${role}`,
      });
    } else if (statement!.date > date) {
      refusals.push({
        what: `the sign-off '${role}' is dated ${statement!.date}, after the issue`,
        hint: 'write the day of issue with --date',
      });
    }
  }
  for (const { note: other, state, through, place } of restsOn) {
    if (state.sound) continue;
    const way = through.length === 0 ? '' : ` through ${through.join(', ')}`;
    refusals.push({
      what: `the note rests${way} on ${other.number} revision ${other.revision}, which is not valid: ${state.words}`,
      hint: `have ${other.path} signed off first, in the revision that is to count`,
      place,
    });
  }
  for (const { id, missing, state, place } of holds) {
    if (state === 'open')
      refusals.push({
        what: `the hold ${id} is open: ${missing}`,
        hint: 'close it first: state: closed, and closed_by',
        place,
      });
  }
  const open = openClauses(listClauses(restingBlocks(note), project));
  if (open.length > 0 && frontMatter.sourcesOpen === undefined) {
    const named = open
      .slice(0, NAMED)
      .map(({ source, clause }) => `${SOURCES[source].designation}, ${clause}`);
    const more = open.length > NAMED ? `; and ${open.length - NAMED} more` : '';
    refusals.push({
      what: `clauses that the methods quote from memory were not compared with their texts: ${named.join('; ')}${more}`,
      hint: 'compare them and write who did under sources_confirmed in project.yaml, or write into the front matter, as sources_open, why they stay open',
    });
  }
  const own = frontMatter.revisions.find(({ revision }) => revision === frontMatter.revision);
  for (const [what, day] of [
    ['the note', frontMatter.date],
    [`revision ${frontMatter.revision} in its history`, own?.date ?? ''],
  ] as const) {
    if (day <= date) continue;
    refusals.push({
      what: `${what} is dated ${day}, after the issue of ${date}`,
      hint: 'write the day of issue with --date, or the day of the note into its front matter and history',
    });
  }
  return [...refusals, ...refuseRevision(frontMatter, issues, date)];
}

/** What stands against issuing a revision of a note or submittal after those that were issued. */
export function refuseRevision(
  frontMatter: Pick<FrontMatter, 'revision' | 'revisions'>,
  issues: NoteReview['issues'],
  date: string,
): readonly Refusal[] {
  const refusals: Refusal[] = [];
  const order = frontMatter.revisions.map(({ revision }) => revision);
  const last = issues.at(-1);
  const before = last === undefined ? -1 : order.indexOf(last.revision);
  if (issues.some(({ revision }) => revision === frontMatter.revision)) {
    refusals.push({
      what: `revision ${frontMatter.revision} has been issued`,
      hint: 'what is issued is not issued again: make a new revision, with its reason, under revisions',
    });
  } else if (last && (before < 0 || before >= order.indexOf(frontMatter.revision))) {
    refusals.push({
      what: `revision ${frontMatter.revision} does not follow revision ${last.revision}, the last that was issued`,
      hint: 'the revision history lists every revision, the oldest first',
    });
  }
  const entered = last?.withdrawal?.date ?? last?.date;
  if (entered !== undefined && date < entered) {
    refusals.push({
      what: `${date} lies before the last ${last?.withdrawal ? 'entry in the register' : 'issue'}, ${entered}`,
      hint: 'write the day of issue with --date',
    });
  }
  return refusals;
}
