import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { EvaluatedSubmittal } from '../../evaluation/submittal/evaluated-submittal.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { findDateConflicts } from './judge-dates.ts';
import type { NoteReview } from './note-review.ts';
import type { Refusal } from './prepare-statement.ts';
import { refuseIssue, refuseRevision } from './refuse-issue.ts';
import type { SubmittalReview } from './submittal-review.ts';

/** What a formal submittal needs and its source does not say: a caution at compile, and it stands against issue. */
export function findSubmittalGaps({ source, notes }: EvaluatedSubmittal): readonly Refusal[] {
  const { frontMatter, recipient } = source;
  const { revision, revisions, date, status } = frontMatter;
  const gaps: Refusal[] = [];
  if (recipient === undefined)
    gaps.push({ what: 'nobody is named as recipient', hint: 'write recipient: and to whom it goes' });
  const row = revisions.find((one) => one.revision === revision);
  if (row === undefined) {
    gaps.push({
      what: `the revision history has no row for revision ${revision}`,
      hint: 'add it under revisions: revision, date and the reason',
    });
  } else if (row.date !== date) {
    gaps.push({
      what: `the submittal is dated ${date}, and revision ${revision} in its history ${row.date}`,
      hint: 'both are the day of this revision: write the same',
    });
  }
  for (const { note, listed } of notes) {
    const front = note.source.frontMatter;
    const { path } = note.source;
    if (front.status !== status) {
      gaps.push({
        what: `the purpose of issue of ${path} is ${front.status}, that of the submittal ${status}`,
        hint: 'a document has one purpose: write the same status, and let the note be signed for it',
        place: listed.place,
      });
    }
    if (front.date > date) {
      gaps.push({
        what: `${path} is dated ${front.date}, after the submittal of ${date}`,
        hint: 'write the day of the submittal into it and its history',
        place: listed.place,
      });
    }
  }
  for (const conflict of findDateConflicts({ frontMatter, statements: [] })) {
    gaps.push({
      what: conflict,
      hint: 'the revision history lists every revision with its day, the oldest first',
    });
  }
  return gaps;
}

/**
 * Everything that stands against issuing a submittal on a day: what stands against any of its notes but that it has been issued by
 * itself, a note that counts no more, and what stands against the submittal.
 */
export function refuseSubmittal(
  submittal: EvaluatedSubmittal,
  project: ProjectSource,
  review: SubmittalReview,
  date: string,
): readonly Refusal[] {
  const { frontMatter } = submittal.source;
  return [
    ...findSubmittalGaps(submittal),
    ...submittal.notes.flatMap(({ note, listed }) =>
      refuseNote(note, project, review.notes.get(note)!, date).map((refusal) => ({
        place: listed.place,
        ...refusal,
        what: `${note.source.path}: ${refusal.what}`,
      })),
    ),
    ...(frontMatter.date > date
      ? [
          {
            what: `the submittal is dated ${frontMatter.date}, after the issue of ${date}`,
            hint: 'write the day of issue with --date, or the day of the submittal into it and its history',
          },
        ]
      : []),
    ...refuseRevision(frontMatter, review.issues, date),
  ];
}

/** A note that was issued by itself in this revision may stand in a submittal, as long as that issue counts. */
function refuseNote(
  note: EvaluatedNote,
  project: ProjectSource,
  review: NoteReview,
  date: string,
): readonly Refusal[] {
  const { revision } = note.source.frontMatter;
  const own = review.issues.findIndex((issue) => issue.revision === revision);
  if (own < 0) return refuseIssue(note, project, review, date);
  const issue = review.issues[own]!;
  const later = review.issues[own + 1];
  const before = { ...review, issues: review.issues.slice(0, own) };
  const counts: Refusal[] = [];
  if (issue.withdrawal)
    counts.push({
      what: `revision ${revision} was withdrawn on ${issue.withdrawal.date}`,
      hint: 'make a new revision of the note, with its reason',
    });
  else if (later)
    counts.push({
      what: `revision ${revision} is superseded by revision ${later.revision}`,
      hint: 'submit the note in its current revision',
    });
  if (issue.date > date)
    counts.push({
      what: `revision ${revision} was issued on ${issue.date}, after the issue of ${date}`,
      hint: 'write the day of issue with --date',
    });
  return [...refuseIssue(note, project, before, date), ...counts];
}
