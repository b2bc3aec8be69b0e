import { sha256 } from '../review/digest-sources.ts';
import type { IssuedNote } from '../review/sign-off/register-entry.ts';
import { findSupersededNotes } from '../review/sign-off/superseded-notes.ts';
import type { Finding } from './finding.ts';
import type { SubmittalWork } from './make-submittal-page.ts';
import { findIssue, type GivenRegister } from './verify-issue.ts';

const ABOUT = 'notes of the issue';

/**
 * Whether the notes of a submittal are those that were issued, in their order and with their digests, and whether each still counts. Only a
 * register from elsewhere than the PDF proves it; without one nothing is said but what contradicts the PDF's own entry.
 */
export function verifyIssuedNotes(
  { submittal, reviewed }: SubmittalWork,
  given: GivenRegister | undefined,
): readonly Finding[] {
  const { number, revision } = submittal.source.frontMatter;
  const register = given?.issues ?? reviewed.register;
  const entry = findIssue(register, number, revision);
  if (!entry) return [];
  const from = given ? given.path : 'the PDF itself';
  const contradict = (text: string): readonly Finding[] => [{ about: ABOUT, state: 'contradicted', text }];
  if (entry.notes === undefined) return contradict(`${from} knows ${number} as a note, not as a submittal`);
  const [listed, there] = [entry.notes, submittal.notes].map((notes) => notes.length);
  if (listed !== there) return contradict(`${from} lists ${listed} notes, and the PDF holds ${there}`);
  const differing = submittal.notes.flatMap(({ note, label }, i) => {
    const { frontMatter } = note.source;
    const review = reviewed.notes.get(note)!;
    const approval = review.signOffs.find(({ role }) => role === 'approved')?.statement;
    const record = review.records.find(({ statement }) => statement === approval);
    const issued = entry.notes![i]!;
    const own: Omit<IssuedNote, 'resultsSha256'> = {
      number: frontMatter.number,
      revision: frontMatter.revision,
      sourceSha256: review.sourceSha256,
      signOffsSha256: record ? sha256(record.text) : 'none',
    };
    const what = [
      ...KEYS.filter(([key]) => own[key] !== issued[key]).map(([, words]) => words),
      ...(review.results.sameAs(issued.resultsSha256) ? [] : ['results']),
    ];
    return what.length > 0 ? [`note ${label}: ${what.join(', ')}`] : [];
  });
  if (differing.length > 0) return contradict(`not as ${from} lists them: ${differing.join('; ')}`);
  const superseded = findSupersededNotes(entry, register).map(({ number: note, revision: old, by, later }) =>
    later === undefined
      ? `revision ${old} of ${note} was withdrawn on ${by.withdrawal!.date}`
      : `revision ${old} of ${note} is superseded by revision ${later} of ${by.date}`,
  );
  if (superseded.length > 0) return contradict(`${superseded.join('; ')}, says ${from}`);
  return given
    ? [
        {
          about: ABOUT,
          state: given.faults.length > 0 ? 'not proven' : 'proven',
          text: `all ${listed} as ${from} lists them, by the digests of their sources, results and sign-offs; none is superseded or withdrawn there`,
        },
      ]
    : [];
}

const KEYS = [
  ['number', 'number'],
  ['revision', 'revision'],
  ['sourceSha256', 'source'],
  ['signOffsSha256', 'sign-offs'],
] as const;
