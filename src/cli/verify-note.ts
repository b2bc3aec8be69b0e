import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import type { Finding } from './finding.ts';
import type { Recording } from './record-results.ts';
import type { ReviewedNote } from './review-notes.ts';
import { verifyDates } from './verify-dates.ts';
import { verifyOtherNotes } from './verify-other-notes.ts';
import { verifySignOffs } from './verify-sign-offs.ts';
import { judgeResults, judgeSource, judgeTable } from './verify-source.ts';
import { verifySignOffTimes } from './verify-stamped-texts.ts';
import type { Yardstick } from './yardstick.ts';

export interface NoteToVerify {
  readonly note: EvaluatedNote;
  /** What it is called within a submittal; undefined where the PDF is that of the note. */
  readonly label: string | undefined;
  readonly review: ReviewedNote;
  readonly recording: Recording;
  /** The issue of the document, as the PDF has it. */
  readonly issue: Issue | undefined;
  readonly madeBy: string;
  /** Whether the reader gave a list of signers. */
  readonly ownList: boolean;
  readonly yardstick: Yardstick;
}

/** What is found of one note, in the groups in which a report tells it. */
export interface NoteFindings {
  readonly source: readonly Finding[];
  /** Who signed, and when. */
  readonly people: readonly Finding[];
  readonly dates: Finding;
}

/** Whether source, results and sign-offs of a note belong together, and its days fit one another. */
export async function verifyNoteOf(work: NoteToVerify): Promise<NoteFindings> {
  const { note, label, review, recording, issue, madeBy, ownList, yardstick } = work;
  const { sourceSha256, context, signOffs, records, restsOn = [] } = review;
  const { frontMatter, path } = note.source;
  const named = (finding: Finding): Finding =>
    label === undefined ? finding : { ...finding, about: `${finding.about} of ${label}` };
  const statements = signOffs.flatMap(({ statement }) => statement ?? []);
  return {
    source: [
      judgeSource(recording.recorded, [sourceSha256, context.earlierSourceSha256]),
      judgeResults(recording.recorded, recording.fresh, path, madeBy),
      ...recording.tables.map((table) => judgeTable(table, madeBy)),
      ...verifyOtherNotes(note, restsOn, ownList),
    ].map(named),
    people: [
      ...verifySignOffs(signOffs, ownList),
      ...(await verifySignOffTimes(signOffs, records, yardstick)),
    ].map(named),
    dates: named(verifyDates({ frontMatter, statements, issue }, yardstick.asOf.slice(0, 10))),
  };
}
