import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { SignerCertificate } from '../files/signer-certificate.ts';
import { type CmsVerdict, verifyCms } from '../files/verify-cms.ts';
import { readSignedBytes } from '../pdf/insert-signature.ts';
import { listSignatures, type PdfSignature } from '../pdf/list-signatures.ts';
import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import type { Finding } from './finding.ts';

interface Examined {
  readonly signature: PdfSignature;
  /** A text says why nothing was found out. */
  readonly verdict: CmsVerdict | string;
}

/**
 * Verifies the digital signatures in a PDF: bytes, certificate, and whether the certificate fits the role in which it signed.
 *
 * @param trust files of certificates that are trusted; none: nothing of who signed is proven
 * @param signOffs those of the note, which say who signed in which role
 */
export async function verifySignatures(
  pdf: Uint8Array,
  trust: readonly string[],
  signOffs: readonly SignOff[],
): Promise<readonly Finding[]> {
  const { signatures, unsound, emptyFields } = await listSignatures(pdf);
  const examined: Examined[] = [];
  for (const signature of signatures)
    examined.push({ signature, verdict: await examine(pdf, signature, trust) });
  return [
    ...examined.map((one) => ({
      about: `signature ${one.signature.field}`,
      ...judge(one, examined, signOffs),
    })),
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

async function examine(
  pdf: Uint8Array,
  { cms, byteRange, date }: PdfSignature,
  trust: readonly string[],
): Promise<CmsVerdict | string> {
  try {
    return await verifyCms(cms, readSignedBytes(pdf, byteRange), {
      trust,
      ...(date === null ? {} : { date }),
    });
  } catch (failure) {
    if (!(failure instanceof OutsideFailure) || failure.code !== 'openssl-missing') throw failure;
    return failure.message;
  }
}

function judge(
  { signature, verdict }: Examined,
  all: readonly Examined[],
  signOffs: readonly SignOff[],
): Pick<Finding, 'state' | 'text'> {
  if (typeof verdict === 'string') return { state: 'not proven', text: `not verified: ${verdict}` };
  if (!verdict.intact) {
    return { state: 'contradicted', text: `the digital signature is not sound: ${verdict.reason}` };
  }
  const { later, date } = signature;
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
    ...(later.kind === 'signatures' ? ['further signatures follow'] : []),
  ].join(', ');
  if (verdict.trust === 'not-trusted') {
    return { state: 'contradicted', text: `${signed}; the certificate is not trusted: ${verdict.reason}` };
  }
  const conflict = findConflict(signature, signer, all, signOffs);
  if (conflict !== undefined) return { state: 'contradicted', text: `${signed}; ${conflict}` };
  const doubts = [
    ...(verdict.trust === 'not-judged'
      ? ['whether its certificate can be trusted was not judged: --trust FILE']
      : []),
    ...doubtsOf(signature, signer, signOffs),
  ];
  return doubts.length === 0
    ? { state: 'proven', text: `${signed}, with a certificate that leads to one that was given as trusted` }
    : { state: 'not proven', text: `${signed}; ${doubts.join('; ')}` };
}

/** One certificate in two roles, or another name than that of the person who signed off in the role. */
function findConflict(
  { field }: PdfSignature,
  signer: SignerCertificate | null,
  all: readonly Examined[],
  signOffs: readonly SignOff[],
): string | undefined {
  if (signer === null) return undefined;
  const twin = all.find(
    ({ signature, verdict }) =>
      signature.field !== field &&
      typeof verdict !== 'string' &&
      verdict.signer?.fingerprint === signer.fingerprint,
  );
  if (twin) return `the same certificate signed '${twin.signature.field}' too`;
  const name = nameInRole(field, signOffs);
  return name === undefined || sameName(name, signer.name)
    ? undefined
    : `the certificate is that of ${signer.name}, while ${name} signed off as '${field}'`;
}

function doubtsOf(
  { field }: PdfSignature,
  signer: SignerCertificate | null,
  signOffs: readonly SignOff[],
): string[] {
  if (signer === null) return ['the signer is not known'];
  return [
    ...(nameInRole(field, signOffs) === undefined ? [`the note has no sign-off in a role '${field}'`] : []),
    ...(signer.weakness === undefined ? [] : [signer.weakness]),
  ];
}

function nameInRole(field: string, signOffs: readonly SignOff[]): string | undefined {
  return signOffs.find(({ role }) => role === field)?.statement?.name;
}

function sameName(a: string, b: string): boolean {
  const plain = (name: string): string => name.normalize('NFC').replace(/\s+/g, ' ').trim();
  return plain(a) === plain(b);
}
