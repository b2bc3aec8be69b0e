import type { FrontMatter } from '../../source/note-source.ts';
import type { Issue } from './register-entry.ts';
import { ROLES } from './roles.ts';
import type { Statement } from './statement.ts';

/** The days that a note and its records state: ISO 8601. */
export interface StatedDates {
  readonly frontMatter: Pick<FrontMatter, 'revision' | 'date' | 'revisions'>;
  /** Of the present revision. */
  readonly statements: readonly Pick<Statement, 'role' | 'date'>[];
  /** Of the present revision. */
  readonly issue?: Pick<Issue, 'date' | 'withdrawal'> | undefined;
}

/** What cannot be of the days that are stated, each in words; the clock of no machine has a say. */
export function findDateConflicts({ frontMatter, statements, issue }: StatedDates): readonly string[] {
  const { revision, date, revisions } = frontMatter;
  const conflicts: string[] = [];
  const inOrder = (before: string, earlier: string, after: string, later: string): void => {
    if (later < earlier) conflicts.push(`${after} is dated ${later}, before ${before}, ${earlier}`);
  };
  revisions.forEach((row, i) => {
    const previous = revisions[i - 1];
    if (previous)
      inOrder(`revision ${previous.revision}`, previous.date, `revision ${row.revision}`, row.date);
  });
  const signed = ROLES.flatMap((role) => statements.filter((statement) => statement.role === role));
  signed.forEach((statement, i) => {
    const previous = signed[i - 1];
    if (previous) {
      const [before, after] = [previous, statement].map(({ role }) => `the sign-off '${role}'`);
      inOrder(before!, previous.date, after!, statement.date);
    }
  });
  if (!issue) return conflicts;
  const own = revisions.find((row) => row.revision === revision);
  inOrder('the date of the note', date, 'the issue', issue.date);
  if (own) inOrder(`revision ${revision} in its history`, own.date, 'the issue', issue.date);
  const last = signed.at(-1);
  if (last) inOrder(`the sign-off '${last.role}'`, last.date, 'the issue', issue.date);
  if (issue.withdrawal) inOrder('the issue', issue.date, 'the withdrawal', issue.withdrawal.date);
  return conflicts;
}

/** The days by which something was done, in words, in the order of the doing. */
export function listDates({ statements, issue }: StatedDates): readonly { what: string; date: string }[] {
  const signed = ROLES.flatMap((role) => statements.filter((statement) => statement.role === role));
  return [
    ...signed.map(({ role, date }) => ({ what: role, date })),
    ...(issue ? [{ what: 'issued', date: issue.date }] : []),
    ...(issue?.withdrawal ? [{ what: 'withdrawn', date: issue.withdrawal.date }] : []),
  ];
}
