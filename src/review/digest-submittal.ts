import { unifyEnd } from '../diagnostics/text-lines.ts';
import type { EvaluatedSubmittal } from '../evaluation/submittal/evaluated-submittal.ts';
import { findState } from '../source/document-states.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { sha256 } from './digest-sources.ts';
import { listHouseFacts } from './house-facts.ts';

/** What is digested of a note within a submittal. */
export interface NoteDigests {
  readonly number: string;
  readonly revision: string;
  readonly sourceSha256: string;
}

/**
 * The digest of everything that a submittal rests on, in one form whatever the editor or the system: its text, what it prints of
 * project.yaml, and the digests of its notes in their order. One fact a line, each a line of JSON.
 */
export function digestSubmittal(
  { source }: EvaluatedSubmittal,
  project: ProjectSource,
  notes: readonly NoteDigests[],
): string {
  const state = findState(project, source.frontMatter.status);
  const facts: readonly (readonly string[])[] = [
    ['project', project.title, project.client, project.site, project.contract ?? ''],
    ['owner', project.company?.name ?? '', project.company?.address ?? '', project.company?.department ?? ''],
    ...listHouseFacts(source.frontMatter, project),
    ['state', state.key, state.title, state.suitability ?? ''],
    ...notes.map(({ number, revision, sourceSha256 }) => ['note', number, revision, sourceSha256]),
    ['submittal', source.path, sha256(unifyEnd(source.text))],
  ];
  return sha256(`${facts.map((fact) => JSON.stringify(fact)).join('\n')}\n`);
}
