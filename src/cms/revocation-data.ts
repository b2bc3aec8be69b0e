import { createHash, X509Certificate } from 'node:crypto';
import {
  BasicOCSPResponse,
  OCSPResponse,
  OCSPResponseStatus,
  type SingleResponse,
} from '@peculiar/asn1-ocsp';
import { type Extension, IssuingDistributionPoint } from '@peculiar/asn1-x509';
import { type AsnType, BitString } from 'asn1js';
import { elementsIn } from './ber-length.ts';
import { addressesOf, type CertificateFacts, integerOf, readCertificateFacts } from './certificate-facts.ts';
import { decode, parseAs, partsOf, rawOf, wordTime } from './der.ts';
import { OID } from './object-identifiers.ts';
import { readRevocationList } from './revocation-list.ts';
import { verifySignatureValue } from './verify-signature-value.ts';

/** A list of revoked certificates (RFC 5280), or the answer of somebody who knows of one certificate (RFC 6960), in DER. */
export interface RevocationData {
  readonly kind: 'list' | 'answer';
  readonly bytes: Uint8Array;
}

/** What one list or answer says of one certificate. Times are such as `2031-05-04T09:30:00Z`. */
export interface RevocationWord {
  readonly kind: RevocationData['kind'];
  /** From when on it is revoked, or thought to be unsafe; undefined where it is not. */
  readonly revoked: string | undefined;
  /** When this was known. */
  readonly asOf: string;
  /** When newer word was promised. */
  readonly until: string | undefined;
}

/** @throws {Error} where the bytes are neither, or something follows */
export function readRevocationData(bytes: Uint8Array): RevocationData {
  if (isList(bytes)) {
    readRevocationList(bytes);
    return { kind: 'list', bytes };
  }
  basicResponseOf(bytes);
  return { kind: 'answer', bytes };
}

/** A list has three parts, an answer a status and what it says. */
function isList(bytes: Uint8Array): boolean {
  const [whole] = elementsIn(bytes, 0, bytes.length);
  return whole !== undefined && [...elementsIn(bytes, whole.content, whole.end)].length === 3;
}

/**
 * What data say of a certificate; undefined where they say nothing that counts: they are of another issuer, their signature does not hold, or
 * they leave such certificates out.
 */
export function findRevocationWord(
  certificate: X509Certificate,
  issuer: X509Certificate,
  data: RevocationData,
): RevocationWord | undefined {
  try {
    const subject = readCertificateFacts(certificate);
    return data.kind === 'list'
      ? askList(data.bytes, subject, issuer)
      : askAnswer(data.bytes, subject, issuer);
  } catch {
    return undefined;
  }
}

function askList(
  bytes: Uint8Array,
  subject: CertificateFacts,
  issuer: X509Certificate,
): RevocationWord | undefined {
  const authority = readCertificateFacts(issuer);
  const list = readRevocationList(bytes);
  const { signed, algorithm, signature, thisUpdate, nextUpdate } = list;
  const covers =
    Buffer.compare(list.issuer, authority.subject) === 0 &&
    authority.signsLists &&
    coversAll(list.extensions, subject);
  if (!covers || !verifySignatureValue(algorithm, signed, signature, issuer.publicKey)) return undefined;
  const { revoked } = list.find(subject.serialNumber) ?? {};
  return { kind: 'list', revoked, asOf: thisUpdate, until: nextUpdate };
}

const ISSUING_POINT = '2.5.29.28';
/** Whether a list is about all certificates of its issuer, or at least about such as this one. Critical extensions that are not known say no. */
function coversAll(extensions: readonly Extension[], subject: CertificateFacts): boolean {
  if (extensions.some(({ critical, extnID }) => critical && extnID !== ISSUING_POINT)) return false;
  const found = extensions.find(({ extnID }) => extnID === ISSUING_POINT);
  if (found === undefined) return true;
  const point = parseAs(found.extnValue.buffer, IssuingDistributionPoint);
  if (point.indirectCRL || point.onlySomeReasons !== undefined || point.onlyContainsAttributeCerts)
    return false;
  if (subject.isAuthority ? point.onlyContainsUserCerts : point.onlyContainsCACerts) return false;
  if (point.distributionPoint === undefined) return true;
  const addresses = addressesOf(point.distributionPoint.fullName ?? []);
  return addresses.some((address) => subject.listAddresses.includes(address));
}

function askAnswer(
  bytes: Uint8Array,
  subject: CertificateFacts,
  issuer: X509Certificate,
): RevocationWord | undefined {
  const authority = readCertificateFacts(issuer);
  const basic = basicResponseOf(bytes);
  const { responses, producedAt } = parseAs(basic, BasicOCSPResponse).tbsResponseData;
  const word = responses.find((one) => isAbout(one, subject, authority));
  if (word === undefined || word.certStatus.unknown !== undefined) return undefined;
  if (!isSignedFor(basic, issuer, producedAt)) return undefined;
  const { revoked } = word.certStatus;
  return {
    kind: 'answer',
    revoked: revoked && wordTime(revoked.revocationTime),
    asOf: wordTime(word.thisUpdate),
    until: word.nextUpdate && wordTime(word.nextUpdate),
  };
}

/** The part of an answer that is signed, with its signature: BasicOCSPResponse. */
function basicResponseOf(bytes: Uint8Array): Uint8Array {
  const { responseStatus, responseBytes } = parseAs(bytes, OCSPResponse);
  if (responseStatus !== OCSPResponseStatus.successful || responseBytes?.responseType !== OID.ocspBasic) {
    throw new Error('it says nothing of a certificate');
  }
  const basic = new Uint8Array(responseBytes.response.buffer);
  parseAs(basic, BasicOCSPResponse);
  return basic;
}

function isAbout(
  { certID }: SingleResponse,
  subject: CertificateFacts,
  authority: CertificateFacts,
): boolean {
  const digest = { [OID.sha1]: 'sha1', [OID.sha256]: 'sha256' }[certID.hashAlgorithm.algorithm];
  if (digest === undefined || integerOf(certID.serialNumber) !== subject.serialNumber) return false;
  const isDigest = (held: { readonly buffer: ArrayBuffer }, of: Uint8Array): boolean =>
    createHash(digest).update(of).digest().equals(Buffer.from(held.buffer));
  return (
    isDigest(certID.issuerNameHash, authority.subject) && isDigest(certID.issuerKeyHash, authority.publicKey)
  );
}

/** Whether the issuer signed an answer, or somebody whom it certified for that and who was valid when it was made. */
function isSignedFor(basic: Uint8Array, issuer: X509Certificate, producedAt: Date): boolean {
  const [signed, algorithm, signature, held] = partsOf(decode(basic));
  const given =
    held === undefined ? [] : partsOf(partsOf(held)[0]).map((one) => new X509Certificate(rawOf(one)));
  const delegates = given.filter(
    (one) =>
      one.checkIssued(issuer) &&
      one.verify(issuer.publicKey) &&
      readCertificateFacts(one).usages?.includes(OID.ocspSigning) &&
      new Date(one.validFrom) <= producedAt &&
      producedAt <= new Date(one.validTo),
  );
  return [issuer, ...delegates].some(({ publicKey }) =>
    verifySignatureValue(algorithm!, rawOf(signed!), bitsOf(signature), publicKey),
  );
}

function bitsOf(element: AsnType | undefined): Uint8Array {
  if (!(element instanceof BitString)) throw new Error('it lacks a signature');
  return Uint8Array.from(element.valueBlock.valueHexView);
}
