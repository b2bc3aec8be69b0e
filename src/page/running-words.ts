import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';
import { findState } from '../source/document-states.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { wordDays } from '../words/word-day.ts';
import type { Mark } from './draft-mark.ts';
import { signatureKindOf } from './ink-signatures-view.ts';
import type { RunningWords } from './page-rules.ts';

/** The purpose of issue; once it is issued, with the code of what it may be used for. */
function wordPurpose(project: ProjectSource, status: string, mark: NoteReview['mark'] | Mark): string {
  const { title, suitability } = findState(project, status);
  return mark === 'none' && suitability !== undefined ? `${title} (${suitability})` : title;
}

/**
 * Initials stand in the foot for valid sign-offs only: a name that is foreseen has signed nothing. Where the print is signed by hand they
 * would say what only the paper can.
 */
export function runningWords(
  { source: { frontMatter } }: EvaluatedNote,
  project: ProjectSource,
  signOffs: readonly SignOff[],
  mark: NoteReview['mark'] | Mark,
  since?: string,
): RunningWords {
  const inInk = signatureKindOf(frontMatter, project) === 'ink';
  const initials = (inInk ? [] : signOffs).flatMap(({ role, state, statement }) => {
    const person = project.people.find(({ key }) => key === statement?.by);
    if (state !== 'valid' || !statement || !person?.initials) return [];
    return [`${role} ${person.initials} ${wordDays(statement.date, frontMatter.locale)}`];
  });
  return {
    number: frontMatter.number,
    revision: frontMatter.revision,
    title: frontMatter.title,
    project: project.title,
    classification: frontMatter.classification ?? '',
    // Broken where it reads well: the browser would break within a date.
    status: [
      ...(since === undefined ? [] : [[`Review copy: change bars against ${since}`]]),
      [wordPurpose(project, frontMatter.status, mark), ...initials.slice(0, 1)],
      initials.slice(1),
    ]
      .map((line) => line.join(', '))
      .filter((line) => line !== '')
      .join(',\n'),
    mark: mark === 'none' ? '' : mark,
  };
}
