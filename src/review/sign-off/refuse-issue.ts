import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { findFormalGaps } from './formal-gaps.ts';
import type { NoteReview } from './note-review.ts';
import type { Refusal } from './prepare-statement.ts';

/** Everything that stands against issuing a note on a day. */
export function refuseIssue(
  note: EvaluatedNote,
  project: ProjectSource,
  { signOffs, issues }: NoteReview,
  date: string,
): readonly Refusal[] {
  const { frontMatter, holds } = note.source;
  const refusals: Refusal[] = [...findFormalGaps(note, project)];
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
  for (const { id, missing, state, place } of holds) {
    if (state === 'open')
      refusals.push({
        what: `the hold ${id} is open: ${missing}`,
        hint: 'close it first: state: closed, and closed_by',
        place,
      });
  }
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
  if (last && date < last.date) {
    refusals.push({
      what: `${date} lies before the last issue, ${last.date}`,
      hint: 'write the day of issue with --date',
    });
  }
  return refusals;
}
