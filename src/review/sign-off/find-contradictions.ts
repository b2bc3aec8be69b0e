import type { Basis } from '../../engine/definition/basis.ts';
import { SOURCES } from '../../engine/sources.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import { mentionsIn } from '../../source/check-mentions.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import type { CheckerRecord } from './checker-record.ts';
import type { NoteReview } from './note-review.ts';
import type { Refusal } from './prepare-statement.ts';
import { namesOfIssue } from './register-entry.ts';
import { ROLES } from './roles.ts';

/** What a note says in two ways that cannot both be so: its day, its people, the editions to which it works. */
export function findSourceContradictions(note: EvaluatedNote): readonly Refusal[] {
  const { frontMatter } = note.source;
  const row = frontMatter.revisions.find(({ revision }) => revision === frontMatter.revision);
  const found: Refusal[] = [];
  if (row && row.date !== frontMatter.date) {
    found.push({
      what: `the note is dated ${frontMatter.date}, and revision ${frontMatter.revision} in its history ${row.date}`,
      hint: 'both are the day of this revision: write the same',
    });
  }
  for (const role of ROLES) {
    const [named, inHistory] = [frontMatter[role], row?.[role]];
    if (named === undefined || inHistory === undefined || named === inHistory) continue;
    found.push({
      what: `the note names '${named}' as '${role}', and its history '${inHistory}' for the same revision`,
      hint: `leave ${role} out of the history: there stands who has signed`,
    });
  }
  return [...found, ...findOtherEditions(note)];
}

/** What sign-offs, register and note say of one thing in two ways; against issue, for what is issued is not mended. */
export function findReviewContradictions(
  note: EvaluatedNote,
  { people }: Pick<ProjectSource, 'people'>,
  { signOffs, issues }: Pick<NoteReview, 'signOffs' | 'issues'>,
): readonly Refusal[] {
  const { frontMatter } = note.source;
  const found: Refusal[] = [];
  for (const { role, statement } of signOffs) {
    if (!statement || statement.date >= frontMatter.date) continue;
    found.push({
      what: `the note is dated ${frontMatter.date}, and was signed as '${role}' before, on ${statement.date}`,
      hint: 'write the day of the note into its front matter and history, and let it be signed again',
    });
  }
  const checked = signOffs.find(({ role }) => role === 'checked')?.statement;
  if (checked) found.push(...findRecordContradictions(note, checked));
  const nameOf = (key: string): string => people.find((one) => one.key === key)?.name ?? key;
  for (const row of frontMatter.revisions) {
    const issue = issues.find(({ revision }) => revision === row.revision);
    if (!issue) continue;
    const names = namesOfIssue(issue);
    for (const role of ROLES) {
      const written = row[role];
      if (written === undefined || nameOf(written) === names[role]) continue;
      found.push({
        what: `the history names ${nameOf(written)} as '${role}' of revision ${row.revision}, and the register ${names[role]}`,
        hint: `leave ${role} out of the history: there stands what the register says`,
      });
    }
  }
  return found;
}

type Record = Pick<CheckerRecord, 'extent' | 'remark' | 'independent' | 'comments'>;

/** What a checker's record says of assumptions and open points that the note has otherwise, or not at all. */
export function findRecordContradictions({ source }: EvaluatedNote, record: Record): readonly Refusal[] {
  const texts = [
    record.extent,
    record.remark,
    ...record.independent.map(({ remark }) => remark),
    ...record.comments.map(({ comment, answer, closed }) => [comment, answer, closed].join('\n')),
  ].filter((text) => text !== undefined);
  return texts.flatMap((text) =>
    mentionsIn(text)
      .filter(({ isVerb }) => !isVerb)
      .flatMap(({ what, id }) => {
        const items = what === 'assumption' ? source.assumptions : source.holds;
        const item = items.find((one) => one.id.toLowerCase() === id.toLowerCase());
        if (!item) {
          return [
            {
              what: `the checker's record speaks of ${what} ${id}, and the note lists none of that id`,
              hint: `list it in the note, closed where it is settled, or let the record be signed again without it`,
            },
          ];
        }
        if (item.state !== 'confirmed' || !/\bto be confirmed\b/i.test(text)) return [];
        return [
          {
            what: `the checker's record calls ${what} ${id} to be confirmed, and the note has it confirmed`,
            hint: 'let the record say what the note says, and be signed again',
          },
        ];
      }),
  );
}

/** A standard without its edition, and the edition: 'IEEE Std 80-2013' is edition 2013 of 'ieee 80'. */
function readDesignation(
  designation: string,
): { readonly family: string; readonly edition: string } | undefined {
  const match = /^(.*?)(?:[:-]|\()((?:19|20)\d\d)(?!\d)/.exec(designation);
  if (!match) return undefined;
  return {
    family: match[1]!
      .trimEnd()
      .replace(/\bStd\.?\s+/i, '')
      .toLowerCase(),
    edition: match[2]!,
  };
}

/**
 * A standard that the note applies in an edition that it does not state, while it states another. Alternatives and auxiliary calculations may
 * compare editions.
 */
function findOtherEditions({ source, blocks }: EvaluatedNote): readonly Refusal[] {
  const stated = source.frontMatter.standards.flatMap((one) => readDesignation(one) ?? []);
  const used = new Map<string, string>();
  for (const { case: ofCase, title, evaluated, id } of blocks) {
    if (ofCase === 'alternative' || ofCase === 'auxiliary') continue;
    for (const basis of [...evaluated.steps, ...evaluated.checks].map((one): Basis => one.basis)) {
      if (basis.kind !== 'source') continue;
      const { designation } = SOURCES[basis.source];
      if (!used.has(designation)) used.set(designation, typeof title === 'string' ? title : id);
    }
  }
  return [...used].flatMap(([designation, where]) => {
    const own = readDesignation(designation);
    const editions = stated.filter(({ family }) => family === own?.family).map(({ edition }) => edition);
    if (!own || editions.length === 0 || editions.includes(own.edition)) return [];
    return [
      {
        what: `'${where}' applies ${designation}, and the note states that it applies the edition of ${editions.join(', ')}`,
        hint: 'state the edition under standards, calculate by that which is stated, or mark the calculation as an alternative',
      },
    ];
  });
}
