import { X509Certificate } from 'node:crypto';
import { judgeRevocation, type RevocationVerdict } from '../cms/judge-revocation.ts';
import { readSignedData } from '../cms/read-signed-data.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { fetchRevocation } from '../files/fetch-revocation.ts';
import { type RevocationFile, readRevocationFile } from '../files/read-revocation-file.ts';
import type { ValidationData } from '../pdf/validation-data.ts';

/** Where it is looked up whether certificates were revoked. */
export interface RevocationOptions {
  /** Files with lists, answers, and certificates of those who made them. */
  readonly revocation?: readonly string[];
  /** Whether the addresses in certificates may be asked. */
  readonly fetchRevocation?: boolean;
}

/**
 * What a signature is verified with later, when its certificates have expired and nobody answers any more: its certificates, those of its
 * time stamps, and word on whether they were revoked. Undefined where nobody asked for it.
 *
 * @param cms the signature, with its time stamps
 * @param at the time for which it counts: `2031-05-04T09:30:00Z`
 * @throws {OutsideFailure} `certificate-revoked`; `revocation-missing` where nothing is known of the signer's certificate; `revocation-unreadable`,
 *   `revocation-server`
 */
export async function gatherValidationData(
  cms: Uint8Array,
  at: string,
  { revocation = [], fetchRevocation: fetches = false }: RevocationOptions,
  tell: (line: string) => void,
): Promise<ValidationData | undefined> {
  if (revocation.length === 0 && !fetches) return undefined;
  const files = await Promise.all(revocation.map(readRevocationFile));
  const { certificates, own } = collectCertificates(cms, files);
  const data = [
    ...files.flatMap((file) => file.revocation),
    ...(fetches ? await fetchRevocation(certificates, tell) : []),
  ];
  const [signer, ...stampers] = own.map((one): RevocationVerdict => {
    if (one === undefined)
      return { state: 'unknown', text: 'the signature does not say which certificate is its own' };
    return judgeRevocation(one, certificates, [], data, at);
  });
  if (signer!.state === 'unknown') {
    throw new OutsideFailure('revocation-missing', `nothing was signed: ${signer!.text}`, {
      hint: 'give a list of revoked certificates of its issuer, --revocation FILE, with the certificate of the issuer where the key brings none',
    });
  }
  for (const { state, text } of [signer!, ...stampers]) {
    if (state === 'revoked') throw new OutsideFailure('certificate-revoked', `nothing was signed: ${text}`);
    if (state !== 'good') tell(text);
  }
  return { certificates, revocation: data };
}

/** All certificates, each once, and those that signed: the signer's, then those of its time stamps. */
function collectCertificates(
  cms: Uint8Array,
  files: readonly RevocationFile[],
): { certificates: X509Certificate[]; own: (X509Certificate | undefined)[] } {
  const signature = readSignedData(cms);
  const signed = [signature, ...signature.timeStamps.map(readSignedData)];
  const all = signed.flatMap(({ certificates }) => certificates.map((raw) => new X509Certificate(raw)));
  const known = new Map(
    [...all, ...files.flatMap(({ certificates }) => certificates)].map((one) => [one.fingerprint256, one]),
  );
  const own = signed.map(({ certificate }) => certificate && new X509Certificate(certificate));
  return { certificates: [...known.values()], own };
}
