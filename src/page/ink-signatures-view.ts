import { ROLES } from '../review/sign-off/roles.ts';
import type { FrontMatter, SignatureKind } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { capitalise } from './word-values.ts';

/** By what a note is signed: as it says itself, else as the project says, else by keys. */
export function signatureKindOf(
  { signatures }: Pick<FrontMatter, 'signatures'>,
  project: Pick<ProjectSource, 'signatures'>,
): SignatureKind {
  return signatures ?? project.signatures ?? 'keys';
}

/**
 * The block that is signed by hand on the print: who is to sign, and rules for the rest. It says nothing of sign-offs, for what is
 * signed on paper no file knows. Null for a note that is signed by keys.
 */
export function viewInkSignatures(front: FrontMatter, project: ProjectSource) {
  if (signatureKindOf(front, project) !== 'ink') return null;
  return ROLES.map((role) => {
    const person = project.people.find(({ key }) => key === front[role]);
    return {
      role: capitalise(role),
      // Who is not named writes what is missing.
      name: person?.name ?? front[role] ?? '',
      position: person?.designation ?? '',
      licence: person?.registration ?? '',
    };
  });
}
