import type { X509Certificate } from 'node:crypto';
import {
  AuthorityInfoAccessSyntax,
  BasicConstraints,
  Certificate,
  CRLDistributionPoints,
  ExtendedKeyUsage,
  KeyUsage,
  KeyUsageFlags,
} from '@peculiar/asn1-x509';
import { decode, nameCertificate, parseAs, rawOf } from './der.ts';
import { OID } from './object-identifiers.ts';

/** What revocation asks of a certificate (RFC 5280). */
export interface CertificateFacts {
  /** Names in DER. */
  readonly issuer: Uint8Array;
  readonly subject: Uint8Array;
  readonly serialNumber: bigint;
  /** The bits of its public key, without the algorithm. */
  readonly publicKey: Uint8Array;
  readonly isAuthority: boolean;
  /** May sign documents, or whatever else is data. */
  readonly signsData: boolean;
  /** May sign lists of revoked certificates. */
  readonly signsLists: boolean;
  /** Extended key usages; undefined where it has none. */
  readonly usages: readonly string[] | undefined;
  /** Addresses of lists, and of those who answer (OCSP). */
  readonly listAddresses: readonly string[];
  readonly answerAddresses: readonly string[];
}

/** @throws {Error} where the certificate or an extension cannot be read */
export function readCertificateFacts({ raw }: X509Certificate): CertificateFacts {
  const { tbsCertificate } = parseAs(raw, Certificate);
  const { issuer, serialNumber, subject } = nameCertificate(decode(raw));
  const extension = <T>(oid: string, type: new () => T): T | undefined => {
    const found = tbsCertificate.extensions?.find(({ extnID }) => extnID === oid);
    return found && parseAs(found.extnValue.buffer, type);
  };
  const usage = extension('2.5.29.15', KeyUsage);
  const usages = extension('2.5.29.37', ExtendedKeyUsage);
  const points = extension(OID.crlDistributionPoints, CRLDistributionPoints) ?? [];
  const access = extension(OID.authorityInformation, AuthorityInfoAccessSyntax) ?? [];
  return {
    issuer: rawOf(issuer),
    subject: rawOf(subject),
    serialNumber: integerOf(rawOf(serialNumber).subarray(2)),
    publicKey: new Uint8Array(tbsCertificate.subjectPublicKeyInfo.subjectPublicKey),
    isAuthority: extension('2.5.29.19', BasicConstraints)?.cA ?? false,
    signsData: permits(usage, KeyUsageFlags.digitalSignature | KeyUsageFlags.nonRepudiation),
    signsLists: permits(usage, KeyUsageFlags.cRLSign),
    usages: usages && [...usages],
    listAddresses: [...points].flatMap(({ distributionPoint }) =>
      addressesOf(distributionPoint?.fullName ?? []),
    ),
    answerAddresses: [...access].flatMap(({ accessMethod, accessLocation }) =>
      accessMethod === OID.ocsp ? addressesOf([accessLocation]) : [],
    ),
  };
}

/** A certificate without a key usage is for any (RFC 5280, 4.2.1.3). */
function permits(usage: KeyUsage | undefined, flags: number): boolean {
  return usage === undefined || (usage.toNumber() & flags) !== 0;
}

/** The addresses among names that may be of many kinds. */
export function addressesOf(names: Iterable<{ readonly uniformResourceIdentifier?: string }>): string[] {
  return [...names].flatMap(({ uniformResourceIdentifier: address }) =>
    address === undefined ? [] : [address],
  );
}

/** A number of big-endian bytes; serial numbers may have 20 of them. */
export function integerOf(bytes: Uint8Array | ArrayBuffer): bigint {
  return BigInt(`0x${Buffer.from(bytes as Uint8Array).toString('hex') || '0'}`);
}

/** The certificate among several that issued another: by its name and by its signature. */
export function findIssuer(
  certificate: X509Certificate,
  among: readonly X509Certificate[],
): X509Certificate | undefined {
  return among.find((one) => {
    try {
      return certificate.checkIssued(one) && certificate.verify(one.publicKey);
    } catch {
      // A key of a kind that is not known here has issued nothing that can be verified.
      return false;
    }
  });
}
