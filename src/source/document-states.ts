import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { NoteSource } from './note-source.ts';
import type { DocumentState, ProjectSource } from './project-source.ts';

/** What follows from sign-off, issue and register: never written into a note. */
export const DERIVED_STATES: readonly string[] = ['draft', 'void', 'superseded', 'withdrawn'];

/**
 * The states of documents where the project lists none: common practice. A code of suitability belongs to a convention between the
 * parties; there is none unless the project names it.
 */
export const COMMON_STATES: readonly DocumentState[] = [
  'draft',
  'for-review',
  'for-approval',
  'for-construction',
  'for-information',
  'as-built',
  'superseded',
  'withdrawn',
].map((key) => ({ key, title: titleOfState(key) }));

/** 'for-review' -> 'For review' */
export function titleOfState(key: string): string {
  const words = key.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function statesOf({ documentStates }: ProjectSource): readonly DocumentState[] {
  return documentStates ?? COMMON_STATES;
}

/** A state as the project calls it; also one that the list leaves out, such as 'void'. */
export function findState(project: ProjectSource, key: string): DocumentState {
  return statesOf(project).find((state) => state.key === key) ?? { key, title: titleOfState(key) };
}

/** The states that a note may be issued in: its purposes of issue. */
export function statesToWrite(project: ProjectSource): readonly string[] {
  return statesOf(project)
    .map(({ key }) => key)
    .filter((key) => !DERIVED_STATES.includes(key));
}

/** Reports a purpose of issue that the list of the project does not have. */
export function checkStatus(
  project: ProjectSource,
  { frontMatter }: Pick<NoteSource, 'frontMatter'>,
  collector: Collector,
): void {
  const place = frontMatter.places.get('status');
  const options = statesToWrite(project);
  const { status } = frontMatter;
  // One that nobody writes was reported when the note was read, and is empty.
  if (!place || status === '' || options.includes(status)) return;
  const nearest = nearestName(status, options);
  collector.error('not-an-option', place, { key: 'status', text: status, options, nearest });
}
