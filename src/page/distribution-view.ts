import type { FrontMatter } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { Recipient } from '../source/read-distribution.ts';

/** The recipients of a document: its own, else those of the project. */
function recipientsOf(
  { distribution }: Pick<FrontMatter, 'distribution'>,
  project: Pick<ProjectSource, 'distribution'>,
): readonly Recipient[] {
  return distribution.length > 0 ? distribution : (project.distribution ?? []);
}

const COLUMNS = [
  ['to', 'To'],
  ['company', 'Company'],
  ['copies', 'Copies'],
  ['format', 'Format'],
  ['for', 'For'],
] as const;

/**
 * To whom a document goes: names alone in one line, else a table of what is written of anybody. Of the two at most one says
 * something.
 */
export function viewDistribution(
  front: Pick<FrontMatter, 'distribution'>,
  project: Pick<ProjectSource, 'distribution'>,
) {
  const recipients = recipientsOf(front, project);
  const columns = COLUMNS.filter(([key]) => recipients.some((one) => one[key] !== undefined));
  if (columns.length <= 1) return { line: recipients.map(({ to }) => to).join(', '), table: null };
  const cellsOf = (one: Recipient) => columns.slice(1).map(([key]) => ({ text: String(one[key] ?? '') }));
  return {
    line: '',
    table: {
      heads: columns.map(([, title]) => ({ title })),
      rows: recipients.map((one) => ({ to: one.to, cells: cellsOf(one) })),
    },
  };
}
