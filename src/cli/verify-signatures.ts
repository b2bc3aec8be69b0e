import type { SignerCertificate } from '../files/signer-certificate.ts';
import type { CmsVerdict } from '../files/verify-cms.ts';
import { listSignatures, type PdfSignature } from '../pdf/list-signatures.ts';
import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import { type ExaminedSignature, examineDocumentTimeStamps, examineSignature } from './examine-signature.ts';
import type { Finding } from './finding.ts';
import { judgeTimes } from './signature-times.ts';
import { findDocumentTime, findSignatureTime } from './verify-times.ts';
import { collectAtHand, type Yardstick } from './yardstick.ts';

/** What the note says of those who sign its PDF. */
export interface NoteFacts {
  /** Who signed off in which role. */
  readonly signOffs: readonly SignOff[];
  /** Day of issue. */
  readonly issued?: string;
}

/**
 * Verifies the digital signatures in a PDF: bytes, certificate, times, and whether the certificate fits the role in which it signed.
 *
 * @param yardstick what they are held against; without certificates nothing of who signed, or when, is proven
 */
export async function verifySignatures(
  pdf: Uint8Array,
  yardstick: Yardstick,
  note: NoteFacts,
): Promise<readonly Finding[]> {
  const { signatures, unsound, emptyFields, validation } = await listSignatures(pdf);
  const atHand = await collectAtHand(yardstick, validation);
  const ofDocument = signatures.filter(({ kind }) => kind === 'document-time-stamp');
  const stamps = await examineDocumentTimeStamps(pdf, ofDocument, yardstick, atHand);
  const examined: ExaminedSignature[] = [];
  for (const one of signatures.filter(({ kind }) => kind === 'signature'))
    examined.push(await examineSignature(pdf, one, yardstick, stamps, atHand));
  return [
    ...examined.flatMap((one): readonly Finding[] => [
      { about: `signature ${one.signature.field}`, ...judge(one, examined, yardstick, note) },
      ...findSignatureTime(one, yardstick),
    ]),
    ...stamps.map((one) => findDocumentTime(one, yardstick)),
    ...unsound.map(
      ({ field, reason }): Finding => ({ about: `signature ${field}`, state: 'contradicted', text: reason }),
    ),
    ...emptyFields.map(
      (field): Finding => ({
        about: `signature ${field}`,
        state: 'not proven',
        text: 'the field is empty: nobody has signed in it',
        notAsked: true,
      }),
    ),
  ];
}

function judge(
  examined: ExaminedSignature,
  all: readonly ExaminedSignature[],
  { asOf, revocation: asked }: Yardstick,
  note: NoteFacts,
): Pick<Finding, 'state' | 'text'> {
  const { signature, verdict, proven, signingTime, revocation } = examined;
  if (typeof verdict === 'string') return { state: 'not proven', text: `not verified: ${verdict}` };
  if (!verdict.intact) {
    return { state: 'contradicted', text: `the digital signature is not sound: ${verdict.reason}` };
  }
  const { later, date, field } = signature;
  if (later.kind === 'other') {
    return {
      state: 'contradicted',
      text: `the PDF was changed after it was signed: ${later.what.join(', ')}`,
    };
  }
  const { signer } = verdict;
  const who = signer === null ? 'an unknown signer' : `${signer.name} (issued by ${signer.issuer})`;
  const signed = [
    `intact, signed by ${who}`,
    ...(date === null ? [] : [`the signer's clock said ${date.slice(0, 10)}`]),
    ...(later.kind === 'signatures' ? ['further signatures, or data for verifying them, follow'] : []),
    ...(revocation === undefined || revocation.state === 'revoked' ? [] : [revocation.text]),
  ].join(', ');
  if (verdict.trust === 'not-trusted' && !examined.validOnlyAsStated) {
    return { state: 'contradicted', text: `${signed}; the certificate is not trusted: ${verdict.reason}` };
  }
  const signOff = inRole(field, note.signOffs);
  const times = judgeTimes({
    stated: date,
    signingTime,
    proven,
    asOf,
    signedOff: signOff?.date,
    issued: note.issued,
  });
  const conflict = findConflict(signature, signer, all, signOff?.name);
  const conflicts = [
    ...(conflict === undefined ? [] : [conflict]),
    ...(revocation?.state === 'revoked' ? [revocation.text] : []),
    ...times.conflicts,
  ];
  if (conflicts.length > 0) return { state: 'contradicted', text: `${signed}; ${conflicts.join('; ')}` };
  const doubts = [
    ...doubtsOfTrust(examined, verdict),
    ...doubtsOf(field, signer, signOff?.name),
    ...(verdict.coversCertificate
      ? []
      : ['it does not cover its own certificate: another one for the same key could stand there']),
    ...(asked.length > 0 && (revocation?.state ?? 'unknown') === 'unknown'
      ? ['the files that were given do not say whether its certificate was revoked']
      : []),
    ...times.doubts,
  ];
  return doubts.length === 0
    ? { state: 'proven', text: `${signed}, with a certificate that leads to one that was given as trusted` }
    : { state: 'not proven', text: `${signed}; ${doubts.join('; ')}` };
}

function doubtsOfTrust({ validOnlyAsStated }: ExaminedSignature, verdict: CmsVerdict): string[] {
  if (verdict.trust === 'not-judged')
    return ['whether its certificate can be trusted was not judged: --trust FILE'];
  if (!validOnlyAsStated) return [];
  return [
    `its certificate is not trusted at present (${verdict.reason}), was valid at the time that it states, and no time stamp proves that it was made then`,
  ];
}

/** One certificate in two roles, or another name than that of the person who signed off in the role. */
function findConflict(
  { field }: PdfSignature,
  signer: SignerCertificate | null,
  all: readonly ExaminedSignature[],
  name: string | undefined,
): string | undefined {
  if (signer === null) return undefined;
  const twin = all.find(
    ({ signature, verdict }) =>
      signature.field !== field &&
      typeof verdict !== 'string' &&
      verdict.signer?.fingerprint === signer.fingerprint,
  );
  if (twin) return `the same certificate signed '${twin.signature.field}' too`;
  return name === undefined || sameName(name, signer.name)
    ? undefined
    : `the certificate is that of ${signer.name}, while ${name} signed off as '${field}'`;
}

function doubtsOf(field: string, signer: SignerCertificate | null, name: string | undefined): string[] {
  if (signer === null) return ['the signer is not known'];
  return [
    ...(name === undefined ? [`the note has no sign-off in a role '${field}'`] : []),
    ...(signer.weakness === undefined ? [] : [signer.weakness]),
  ];
}

function inRole(field: string, signOffs: readonly SignOff[]) {
  return signOffs.find(({ role }) => role === field)?.statement;
}

function sameName(a: string, b: string): boolean {
  const plain = (name: string): string => name.normalize('NFC').replace(/\s+/g, ' ').trim();
  return plain(a) === plain(b);
}
