import { join } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { startOf } from '../../diagnostics/place.ts';
import { wordDiagnostic } from '../../diagnostics/word-diagnostic.ts';
import { readWholeFile } from '../../files/read-whole-file.ts';
import { replaceFiles } from '../../files/replace-file.ts';
import { signWithSsh } from '../../files/sign-with-ssh.ts';
import { ALLOWED_SIGNERS_FILE } from '../../review/sign-off/allowed-signers.ts';
import { type CheckerRecord, readCheckerRecord } from '../../review/sign-off/checker-record.ts';
import { findRecordContradictions } from '../../review/sign-off/find-contradictions.ts';
import { judgeSignOffs } from '../../review/sign-off/judge-sign-offs.ts';
import type { SignedText } from '../../review/sign-off/judge-signature.ts';
import { type NoteReview, reviewNote } from '../../review/sign-off/note-review.ts';
import { prepareStatement } from '../../review/sign-off/prepare-statement.ts';
import type { Method, Role } from '../../review/sign-off/roles.ts';
import { appendSignOff, readSignOffFile, signOffPath } from '../../review/sign-off/sign-off-file.ts';
import { NAMESPACE } from '../../review/sign-off/ssh-signature.ts';
import { type Statement, writeStatement } from '../../review/sign-off/statement.ts';
import { wordSignOff } from '../../review/sign-off/word-sign-off.ts';
import { withoutUndefined } from '../../source/without-undefined.ts';
import { cautionDates } from '../caution-dates.ts';
import { EXIT } from '../exit-status.ts';
import { loadForSignOff, type NoteForSignOff } from '../load-for-sign-off.ts';
import { judgePages } from '../make-pages.ts';
import { SOFTWARE_NAME } from '../software.ts';
import { stampText } from '../stamp-text.ts';
import type { Terminal } from '../terminal.ts';
import { chooseTimeStampServer, type TimeStampOptions } from '../time-stamp-server.ts';
import { readDay } from '../today.ts';

export interface SignOptions extends TimeStampOptions {
  readonly as: Role;
  readonly by?: string;
  readonly date?: string;
  readonly key?: string;
  readonly method?: Method;
  readonly extent?: string;
  readonly remark?: string;
  /** File with the record of a checker. */
  readonly record?: string;
}

const MOST_RECORD = 1_000_000;

/** Appends a sign-off record to those of a note. */
export async function signCommand(path: string, options: SignOptions, terminal: Terminal): Promise<number> {
  const date = readDay(options.date);
  const found = await loadForSignOff(path, terminal, { withRecords: false });
  if (!found) return EXIT.sourceWrong;
  const { note, project, loaded, review, collector } = found;
  const record = await readRecord(found, options);
  const prepared = record && prepare(found, options, record.values, date);
  for (const refusal of record ? findRecordContradictions(note, record.values) : []) {
    collector.error('refused-sign-off', startOf(options.record ?? note.source.path), refusal);
  }
  if (Array.isArray(prepared)) {
    for (const refusal of prepared) collector.error('refused-sign-off', startOf(note.source.path), refusal);
  }
  if (collector.hasErrors || !prepared || Array.isArray(prepared)) {
    terminal.diagnostics(collector.list(), collector);
    return EXIT.sourceWrong;
  }
  const text = writeStatement(prepared as Statement);
  const signature = options.key === undefined ? undefined : await signWithSsh(text, options.key, NAMESPACE);
  const file = appendSignOff(review.recordsText, text, signature);
  const fresh = judgeFresh(found, file);
  const signOff = fresh.signOffs.find(({ role }) => role === options.as)!;
  if (signOff.state !== 'valid') {
    throw new OutsideFailure(
      'sign-off-refused',
      `nothing was written, for the sign-off would be void: ${signOff.reason}`,
      {
        hint: hintAt(signOff.reason ?? ''),
      },
    );
  }
  const signed = signature === undefined ? undefined : { text, signature };
  const told = await examineFresh(found, fresh, file, { statement: prepared as Statement, signed });
  terminal.diagnostics(told.list(), loaded);
  if (told.hasErrors) return EXIT.sourceWrong;
  const server = chooseTimeStampServer(project.timeStamps, loaded.folder, options);
  const timeStamp =
    server && (await stampText(withoutUndefined({ text, signature }), date, server, terminal.err));
  const target = join(loaded.folder, signOffPath(note.source.path));
  const bytes = new TextEncoder().encode(appendSignOff(review.recordsText, text, signature, timeStamp));
  await replaceFiles([{ path: target, bytes, was: review.recordsBytes }], { tell: terminal.err });
  terminal.out(`${options.as}: ${wordSignOff(signOff)}`);
  terminal.out(`wrote ${target}`);
  return EXIT.done;
}

/**
 * What is to be said of a record before it is written: what the page could not show must not stand in it, for nobody may change it any
 * more; and its day may be another than today.
 */
async function examineFresh(
  { note, loaded, review, recording }: NoteForSignOff,
  fresh: NoteReview,
  file: string,
  { statement, signed }: { readonly statement: Statement; readonly signed: SignedText | undefined },
): Promise<Collector> {
  const collector = new Collector();
  const shown = { ...review, ...fresh, recordsText: file };
  await judgePages(loaded, new Map([[note, shown]]), new Map([[note, recording.fresh]]), collector);
  const { date: day, principal } = statement;
  const signing = signed &&
    principal !== undefined && {
      signed,
      request: { principal, namespace: NAMESPACE, day },
      signers: review.context.signers,
    };
  cautionDates(day, startOf(signOffPath(note.source.path)), signing || undefined, collector);
  return collector;
}

function hintAt(reason: string): string {
  if (reason.includes('was revoked'))
    return `sign with another key, listed in ${ALLOWED_SIGNERS_FILE}; nothing holds that a revoked one signs`;
  return reason.includes(ALLOWED_SIGNERS_FILE) || reason.includes('certificate')
    ? `${ALLOWED_SIGNERS_FILE} in the project says whose key it is, or whose authority certifies it: signer, then the public key, as in ssh-keygen(1)`
    : 'every person signs with a key of their own, in the order of the roles';
}

interface RecordReading {
  readonly values: CheckerRecord;
  readonly text?: string;
}

/** What the options and the file say of the checking; undefined where the file is at fault, which is reported. */
async function readRecord(
  { note, collector }: NoteForSignOff,
  { method, extent, remark, record }: SignOptions,
): Promise<RecordReading | undefined> {
  const written = Object.fromEntries(
    Object.entries({ method, extent, remark }).filter(([, value]) => value !== undefined),
  ) as Partial<CheckerRecord>;
  if (record === undefined) return { values: { independent: [], comments: [], ...written } };
  const text = new TextDecoder().decode(await readWholeFile(record, MOST_RECORD));
  const values = readCheckerRecord(record, text, note, collector);
  return values && { values: { ...values, ...written }, text };
}

function prepare(
  { note, project, review }: NoteForSignOff,
  { as: role, by, key }: SignOptions,
  record: CheckerRecord,
  date: string,
) {
  return prepareStatement(
    { role, date, record, withKey: key !== undefined, ...(by === undefined ? {} : { by }) },
    {
      file: note.source.path,
      frontMatter: note.source.frontMatter,
      people: project.people,
      records: review.records,
      signOffs: review.signOffs,
      sourceSha256: review.sourceSha256,
      results: review.results,
      software: SOFTWARE_NAME,
    },
  );
}

/** The new record, judged as everybody is going to judge it, before it is written. */
function judgeFresh({ note, review }: NoteForSignOff, file: string): NoteReview {
  const collector = new Collector();
  const records = readSignOffFile(signOffPath(note.source.path), file, collector);
  if (!records) {
    const [fault] = collector.list();
    throw new OutsideFailure(
      'usage',
      `the sign-off could not be read back: ${fault ? wordDiagnostic(fault).message : ''}`,
      {
        hint: 'write remark, extent and comments in plain words; nothing was written',
      },
    );
  }
  const signOffs = judgeSignOffs(records, review.context);
  const { restsOn = [] } = review;
  return { ...reviewNote(note.source.frontMatter, signOffs, review.issues), restsOn };
}
