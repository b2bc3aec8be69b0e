import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { findSourceContradictions } from './find-contradictions.ts';
import { findDateConflicts } from './judge-dates.ts';
import type { Refusal } from './prepare-statement.ts';
import { ROLES } from './roles.ts';

/** What a formal document needs and the source does not say: a caution at compile, and it stands against issue. */
export function findFormalGaps(note: EvaluatedNote, project: ProjectSource): readonly Refusal[] {
  const { frontMatter } = note.source;
  const gaps: Refusal[] = [];
  if (project.company === undefined) {
    gaps.push({
      what: 'the legal owner of the document is not named',
      hint: 'write company: and its name into project.yaml',
    });
  }
  for (const role of ROLES) {
    const key = frontMatter[role];
    if (key === undefined) {
      gaps.push({
        what: `nobody is named as '${role}'`,
        hint: `write ${role}: and the key of a person into the front matter`,
      });
    } else if (!project.people.some((person) => person.key === key)) {
      gaps.push({
        what: `'${key}', named as '${role}', is no person of project.yaml`,
        hint: 'write the person under people',
      });
    }
  }
  const row = frontMatter.revisions.find(({ revision }) => revision === frontMatter.revision);
  if (row === undefined) {
    gaps.push({
      what: `the revision history has no row for revision ${frontMatter.revision}`,
      hint: 'add it under revisions: revision, date and the reason',
    });
  }
  for (const conflict of findDateConflicts({ frontMatter, statements: [] })) {
    gaps.push({
      what: conflict,
      hint: 'the revision history lists every revision with its day, the oldest first',
    });
  }
  return [...gaps, ...findSourceContradictions(note)];
}
