import type { X509Certificate } from 'node:crypto';
import { findIssuer, readCertificateFacts } from '../cms/certificate-facts.ts';
import { encodeOcspRequest } from '../cms/ocsp-request.ts';
import { findRevocationWord, type RevocationData, readRevocationData } from '../cms/revocation-data.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { type Exchange, getFrom, postTo } from './fetch-bytes.ts';

const EXCHANGE: Exchange = {
  what: 'the server for revoked certificates',
  code: 'revocation-server',
  sends: 'application/ocsp-request',
};

/**
 * Asks the addresses that certificates themselves name whether they were revoked: for an answer (OCSP) first, else for a list. Certificates
 * that sign themselves, or name no address, are left out.
 *
 * @param certificates with those of their issuers among them
 * @throws {OutsideFailure} `revocation-server` where addresses are named and none gives word of the certificate
 */
export async function fetchRevocation(
  certificates: readonly X509Certificate[],
  tell: (line: string) => void,
): Promise<readonly RevocationData[]> {
  const found: RevocationData[] = [];
  for (const certificate of certificates) {
    const issuer = certificate.checkIssued(certificate) ? undefined : findIssuer(certificate, certificates);
    if (issuer === undefined || found.some((one) => findRevocationWord(certificate, issuer, one))) continue;
    const word = await askAddresses(certificate, issuer, tell);
    if (word !== undefined) found.push(word);
  }
  return found;
}

async function askAddresses(
  certificate: X509Certificate,
  issuer: X509Certificate,
  tell: (line: string) => void,
): Promise<RevocationData | undefined> {
  const { answerAddresses, listAddresses } = readCertificateFacts(certificate);
  const request = encodeOcspRequest(certificate, issuer);
  const ways = [
    ...answerAddresses.map((url) => ({ url, ask: () => postTo(url, request, EXCHANGE) })),
    ...listAddresses.map((url) => ({ url, ask: () => getFrom(url, EXCHANGE) })),
  ];
  let last: OutsideFailure | undefined;
  for (const { url, ask } of ways) {
    tell(`asks ${url} for revoked certificates`);
    try {
      const data = readAnswer(url, await ask());
      if (findRevocationWord(certificate, issuer, data)) return data;
      last = nothingSaid(url);
    } catch (failure) {
      if (!(failure instanceof OutsideFailure)) throw failure;
      last = failure;
    }
  }
  if (last !== undefined) throw last;
  return undefined;
}

function readAnswer(url: string, bytes: Uint8Array): RevocationData {
  try {
    return readRevocationData(Uint8Array.from(bytes));
  } catch {
    throw nothingSaid(url);
  }
}

function nothingSaid(url: string): OutsideFailure {
  return new OutsideFailure('revocation-server', `${url} says nothing of the certificate that names it`, {
    hint: 'nothing was written; give a list of revoked certificates yourself, --revocation FILE',
  });
}
