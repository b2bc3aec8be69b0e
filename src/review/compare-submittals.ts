import type { EvaluatedSubmittal } from '../evaluation/submittal/evaluated-submittal.ts';
import { wordRecipient } from '../source/read-distribution.ts';
import { compareFacts } from './compare-facts.ts';
import type { SubmittalChange } from './comparison.ts';

/** What changed in the submittals of a project but for their notes, which are compared by themselves. They are paired by path, else number. */
export function compareSubmittals(
  before: readonly EvaluatedSubmittal[],
  after: readonly EvaluatedSubmittal[],
): SubmittalChange[] {
  const left = new Set(before);
  const pairs = after.map((submittal) => {
    const old =
      before.find(({ source }) => source.path === submittal.source.path) ??
      [...left].find(({ source }) => source.frontMatter.number === submittal.source.frontMatter.number);
    if (old) left.delete(old);
    return { old, submittal };
  });
  return [
    ...pairs.flatMap(({ old, submittal }) => compare(old, submittal)),
    ...[...left].flatMap((old) => compare(old, undefined)),
  ];
}

function compare(
  old: EvaluatedSubmittal | undefined,
  fresh: EvaluatedSubmittal | undefined,
): SubmittalChange[] {
  const facts = compareFacts(factsOf(old), factsOf(fresh));
  if (facts.length === 0) return [];
  const { path } = (fresh ?? old)!.source;
  return [{ path, state: !old ? 'added' : !fresh ? 'removed' : 'changed', facts }];
}

function factsOf(submittal: EvaluatedSubmittal | undefined): ReadonlyMap<string, string> {
  if (!submittal) return new Map();
  const { source, notes } = submittal;
  const { number, title, revision, date, status, documentType, ...front } = source.frontMatter;
  const introduction = source.introduction
    ?.map((part) => (typeof part === 'string' ? part : `{{ ${part.target} }}`))
    .join('')
    .trim();
  const facts: [string, string | undefined][] = [
    ...Object.entries({ number, title, revision, date, status, documentType }),
    ['recipient', source.recipient],
    ['client document number', front.clientDocumentNumber],
    ['classification', front.classification],
    ['distribution', front.distribution.map(wordRecipient).join('; ') || undefined],
    ['supersedes', front.supersedes],
    ...front.revisions.map((row): [string, string] => [
      `revision ${row.revision}`,
      `${row.date}, ${row.reason}`,
    ]),
    ['introduction', introduction],
    ['order of notes', notes.map(({ label }) => label).join(', ')],
    ...notes.map(({ label, listed, note }): [string, string] => {
      const { number: own, revision: issue, title: ownTitle } = note.source.frontMatter;
      return [`note ${label}`, `${own} revision ${issue}, ${listed.heading ?? ownTitle}`];
    }),
  ];
  return new Map(facts.filter((fact): fact is [string, string] => fact[1] !== undefined));
}
