import type { NoteReview } from '../review/sign-off/note-review.ts';
import { namesOfIssue } from '../review/sign-off/register-entry.ts';
import type { Role } from '../review/sign-off/roles.ts';
import type { FrontMatter, RevisionRow } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { Locale } from '../words/locales.ts';
import { wordDays } from '../words/word-day.ts';
import { DASH } from './word-values.ts';

/**
 * The revision history of a document, each with its issue. Who has prepared, checked and approved a revision is said by the register where it
 * was issued, by the sign-offs where it is the present one, and by the author's row where it is older than both.
 */
export function viewRevisions(
  { revisions, revision: current, locale }: FrontMatter,
  { people }: ProjectSource,
  { issues, signOffs, mark }: NoteReview,
  changes?: { readonly id: string; readonly number: string; readonly text: string },
) {
  const person = (key: string | undefined) => people.find((one) => one.key === key)?.name ?? key ?? DASH;
  const signed = (role: Role): string => {
    const signOff = signOffs.find((one) => one.role === role);
    return signOff?.state === 'valid' && signOff.statement ? signOff.statement.name : DASH;
  };
  const namesOf = (row: RevisionRow): Readonly<Record<Role, string>> => {
    const issue = issues.find(({ revision }) => revision === row.revision);
    if (issue) return namesOfIssue(issue);
    const name = row.revision === current ? signed : (role: Role) => person(row[role]);
    return { prepared: name('prepared'), checked: name('checked'), approved: name('approved') };
  };
  return {
    anyIssued: issues.length > 0,
    rows: revisions.map((row) => ({
      revision: row.revision,
      date: row.date,
      reason: row.reason,
      // Beside the issues of others the column of issues says it.
      notYet: row.revision === current && mark === 'draft' && issues.length === 0,
      changes: row.revision === current && changes ? changes : null,
      sections: row.sections ?? DASH,
      ...namesOf(row),
      issue: viewIssue(row.revision, issues, row.revision === current && mark === 'void', locale),
    })),
  };
}

/** Day of issue; whether it was withdrawn, or a later revision issued; 'void' after a change since. */
function viewIssue(revision: string, issues: NoteReview['issues'], isVoid: boolean, locale: Locale) {
  const own = issues.findIndex((issue) => issue.revision === revision);
  if (own < 0) return { date: '', words: '' };
  const { withdrawal } = issues[own]!;
  const later = withdrawal ? undefined : issues[own + 1];
  const words = [
    ...(withdrawal ? [`withdrawn ${wordDays(withdrawal.date, locale)}: ${withdrawal.withdrawn}`] : []),
    ...(later ? [`superseded by ${later.revision}`] : []),
    ...(isVoid ? ['void: changed since'] : []),
  ];
  return { date: issues[own]!.date, words: words.join(', ') };
}
