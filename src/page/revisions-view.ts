import type { NoteReview } from '../review/sign-off/note-review.ts';
import type { FrontMatter } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { DASH } from './word-values.ts';

/** The revision history of a document, each with its issue. */
export function viewRevisions(
  { revisions, revision: current }: FrontMatter,
  { people }: ProjectSource,
  { issues, mark }: Pick<NoteReview, 'issues' | 'mark'>,
) {
  const person = (key: string | undefined) => people.find((one) => one.key === key)?.name ?? key ?? DASH;
  return {
    anyIssued: issues.length > 0,
    rows: revisions.map((row) => ({
      revision: row.revision,
      date: row.date,
      reason: row.reason,
      sections: row.sections ?? DASH,
      prepared: person(row.prepared),
      checked: person(row.checked),
      approved: person(row.approved),
      issue: viewIssue(row.revision, issues, row.revision === current && mark === 'void'),
    })),
  };
}

/** Day of issue; whether it was withdrawn, or a later revision issued; 'void' after a change since. */
function viewIssue(revision: string, issues: NoteReview['issues'], isVoid: boolean) {
  const own = issues.findIndex((issue) => issue.revision === revision);
  if (own < 0) return { date: '', words: '' };
  const { withdrawal } = issues[own]!;
  const later = withdrawal ? undefined : issues[own + 1];
  const words = [
    ...(withdrawal ? [`withdrawn ${withdrawal.date}: ${withdrawal.withdrawn}`] : []),
    ...(later ? [`superseded by ${later.revision}`] : []),
    ...(isVoid ? ['void: changed since'] : []),
  ];
  return { date: issues[own]!.date, words: words.join(', ') };
}
