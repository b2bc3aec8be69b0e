import { Collector } from '../diagnostics/collector.ts';
import { type Diagnostic, hasErrors } from '../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readWholeFile } from '../files/read-whole-file.ts';
import { verifyCms } from '../files/verify-cms.ts';
import { readSignedBytes } from '../pdf/insert-signature.ts';
import { listSignatures, type PdfSignature } from '../pdf/list-signatures.ts';
import { wordDiff } from '../review/diff-lines.ts';
import { wordSignOff } from '../review/sign-off/word-sign-off.ts';
import { resultsPath } from '../review/write-results.ts';
import { comparePages } from './compare-pages.ts';
import { type LoadedProject, loadAndEvaluate } from './load-and-evaluate.ts';
import { recordNote } from './record-results.ts';
import { reviewNotes, type SignersText } from './review-notes.ts';
import { SOFTWARE_NAME } from './software.ts';
import type { Terminal } from './terminal.ts';
import { notePathOf, type UnpackedPdf, unpackPdfSource } from './unpack-pdf-source.ts';

/** 'open': nothing speaks against it, but it was not made sure. */
export type FindingState = 'holds' | 'does not hold' | 'open';

/** One thing that was verified. */
export interface Finding {
  /** 'version', 'source', 'results', 'sign-off prepared', 'page text', 'signature approved' */
  readonly about: string;
  readonly state: FindingState;
  readonly text: string;
  /** Lines that show what differs. */
  readonly detail?: string;
}

export interface VerifyReport {
  /** Number, revision and title; absent where the source cannot be read. */
  readonly note?: { readonly number: string; readonly revision: string; readonly title: string };
  readonly madeBy: string;
  readonly verifiedBy: string;
  readonly findings: readonly Finding[];
}

export interface VerifyRequest {
  /** File that says whose SSH key is whose; the list in the PDF itself where absent. */
  readonly allowedSigners?: string;
  readonly trust?: readonly string[];
  readonly browser?: string;
  /** Whether the note is printed again, to compare the text of its pages. */
  readonly print: boolean;
}

const MOST_SIGNERS = 1_000_000;

/**
 * Recomputes a PDF from the source that it carries, and finds out whether source, results, sign-offs, page and digital
 * signatures belong together.
 *
 * @throws {OutsideFailure} where the PDF is damaged, foreign or without source, and whatever hinders reading
 */
export async function verifyPdf(
  path: string,
  request: VerifyRequest,
  terminal: Terminal,
): Promise<VerifyReport> {
  const unpacked = await unpackPdfSource(path);
  try {
    const madeBy = unpacked.contents.information.Creator ?? '';
    const [loaded] = await loadAndEvaluate([notePathOf(unpacked)], {
      progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
    });
    const findings = [
      judgeVersion(madeBy),
      ...(await verifySource(unpacked, loaded!, madeBy, request, terminal)),
      ...(await verifySignatures(unpacked.bytes, request)),
    ];
    const { number, revision, title } = loaded!.notes[0]?.source.frontMatter ?? {};
    const note = number !== undefined && revision !== undefined && title !== undefined;
    return {
      ...(note ? { note: { number, revision, title } } : {}),
      madeBy,
      verifiedBy: SOFTWARE_NAME,
      findings,
    };
  } finally {
    await unpacked.remove();
  }
}

async function readSigners(path: string | undefined): Promise<SignersText | undefined> {
  if (path === undefined) return undefined;
  return { path, text: new TextDecoder().decode(await readWholeFile(path, MOST_SIGNERS)) };
}

function judgeVersion(madeBy: string): Finding {
  return madeBy === SOFTWARE_NAME
    ? { about: 'version', state: 'holds', text: `made and verified by ${SOFTWARE_NAME}` }
    : {
        about: 'version',
        state: 'open',
        text: `made by ${madeBy}, recomputed by ${SOFTWARE_NAME}: the engine's version has changed`,
      };
}

async function verifySource(
  unpacked: UnpackedPdf,
  loaded: LoadedProject,
  madeBy: string,
  request: VerifyRequest,
  terminal: Terminal,
): Promise<readonly Finding[]> {
  const [note] = loaded.notes;
  if (hasErrors(loaded.diagnostics) || !note || !loaded.project) {
    const text = 'the source in the PDF cannot be evaluated';
    return [{ about: 'source', state: 'does not hold', text, detail: list(loaded.diagnostics) }];
  }
  const collector = new Collector();
  const recording = await recordNote(loaded, note, collector);
  const signersText = await readSigners(request.allowedSigners);
  const reviews = await reviewNotes(loaded, collector, signersText);
  if (collector.hasErrors) {
    const text = 'recorded results, sign-off records or the list of signers cannot be read';
    return [{ about: 'source', state: 'does not hold', text, detail: list(collector.list()) }];
  }
  const { sourceSha256: digest, signOffs } = reviews.get(note)!;
  const results = recording.recorded;
  const signers = request.allowedSigners === undefined ? ', keys as the PDF itself names them' : '';
  return [
    judgeSource(results, digest),
    judgeResults(results, recording.fresh, note.source.path),
    ...signOffs.map((signOff): Finding => {
      const about = `sign-off ${signOff.role}`;
      const words = wordSignOff(signOff);
      if (signOff.state === 'valid') {
        return {
          about,
          state: 'holds',
          text: signOff.fingerprint === undefined ? words : `${words}${signers}`,
        };
      }
      return { about, state: signOff.state === 'void' ? 'does not hold' : 'open', text: words };
    }),
    request.print
      ? await comparePages(unpacked, loaded, recording.fresh, madeBy, request.browser, terminal)
      : { about: 'page text', state: 'open', text: 'not compared, as asked' },
  ];
}

function list(diagnostics: readonly Diagnostic[]): string {
  return diagnostics.map(({ place, message }) => `${place.file}:${place.line}: ${message}`).join('\n');
}

function sameSource(results: string, digest: string): boolean {
  return results.includes(`\nsource_sha256: ${digest}\n`);
}

function judgeSource(results: string | undefined, digest: string): Finding {
  const about = 'source';
  if (results === undefined)
    return { about, state: 'does not hold', text: 'the PDF carries no recorded results' };
  return sameSource(results, digest)
    ? { about, state: 'holds', text: `the source is that of the recorded results, SHA-256 ${digest}` }
    : {
        about,
        state: 'does not hold',
        text: `the source in the PDF is not that from which its results were recorded: its SHA-256 is ${digest}`,
      };
}

function judgeResults(results: string | undefined, fresh: string, path: string): Finding {
  const about = 'results';
  const facts = (text: string): string => text.replace(/^source_sha256: .*$/m, '');
  if (results === undefined) return { about, state: 'open', text: `${resultsPath(path)} is not there` };
  return facts(results) === facts(fresh)
    ? { about, state: 'holds', text: `recomputed by ${SOFTWARE_NAME}: same results` }
    : {
        about,
        state: 'does not hold',
        text: 'the recorded results in the PDF are not those of its source',
        detail: wordDiff(facts(results), facts(fresh)),
      };
}

async function verifySignatures(pdf: Uint8Array, { trust }: VerifyRequest): Promise<readonly Finding[]> {
  const { signatures, unsound, emptyFields } = await listSignatures(pdf);
  const findings = [];
  for (const signature of signatures) findings.push(await verifySignature(pdf, signature, trust ?? []));
  return [
    ...findings,
    ...unsound.map(
      ({ field, reason }): Finding => ({ about: `signature ${field}`, state: 'does not hold', text: reason }),
    ),
    ...emptyFields.map(
      (field): Finding => ({ about: `signature ${field}`, state: 'open', text: 'the field is empty' }),
    ),
  ];
}

async function verifySignature(
  pdf: Uint8Array,
  signature: PdfSignature,
  trust: readonly string[],
): Promise<Finding> {
  const about = `signature ${signature.field}`;
  const { date } = signature;
  let verdict: Awaited<ReturnType<typeof verifyCms>>;
  try {
    verdict = await verifyCms(signature.cms, readSignedBytes(pdf, signature.byteRange), {
      trust,
      ...(date === null ? {} : { date }),
    });
  } catch (failure) {
    if (!(failure instanceof OutsideFailure) || failure.code !== 'openssl-missing') throw failure;
    return { about, state: 'open', text: `not verified: ${failure.message}` };
  }
  if (!verdict.intact) {
    return { about, state: 'does not hold', text: `the digital signature does not hold: ${verdict.reason}` };
  }
  const { later } = signature;
  if (later.kind === 'other') {
    const text = `the PDF was changed after it was signed: ${later.what.join(', ')}`;
    return { about, state: 'does not hold', text };
  }
  const who =
    verdict.signer === null
      ? 'an unknown signer'
      : `${verdict.signer.name} (issued by ${verdict.signer.issuer})`;
  const signed = `intact, signed by ${who}${date === null ? '' : `, ${date.slice(0, 10)}`}`;
  const after = later.kind === 'signatures' ? ', further signatures follow' : '';
  switch (verdict.trust) {
    case 'trusted':
      return { about, state: 'holds', text: `${signed}${after}` };
    case 'not-trusted':
      return {
        about,
        state: 'does not hold',
        text: `${signed}; the certificate is not trusted: ${verdict.reason}`,
      };
    case 'not-judged':
      return {
        about,
        state: 'open',
        text: `${signed}${after}; whether the certificate can be trusted was not judged: --trust FILE`,
      };
  }
}
