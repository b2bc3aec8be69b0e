import { X509Certificate } from 'node:crypto';
import { readCertificateFacts } from '../cms/certificate-facts.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';

/** What a certificate says of the one who signs with its key. */
export interface SignerCertificate {
  /** The common name, else the whole subject. */
  readonly name: string;
  /** Such as "CN=Ilse Brandreth, O=Quillfeather". */
  readonly subject: string;
  readonly issuer: string;
  /** Hexadecimal digits. */
  readonly serialNumber: string;
  /** SHA-256 of the certificate, hexadecimal digits in lower case. */
  readonly fingerprint: string;
  /** Such as `2031-05-04T09:30:00Z`. */
  readonly validFrom: string;
  readonly validTo: string;
  /** Why a signature with it proves little: a key that is too short, or made for something else; undefined where nothing is. */
  readonly weakness: string | undefined;
}

/** The certificates in a text of PEM blocks, in order. */
export function readCertificates(pem: string): X509Certificate[] {
  const blocks = pem.match(/-----BEGIN CERTIFICATE-----[^-]*-----END CERTIFICATE-----/g) ?? [];
  return blocks.map((block) => new X509Certificate(block));
}

export function describeCertificate(certificate: X509Certificate): SignerCertificate {
  const line = (text: string): string => text.trim().split('\n').reverse().join(', ');
  const subject = line(certificate.subject);
  return {
    name: /^CN=(.*)$/m.exec(certificate.subject)?.[1] ?? subject,
    subject,
    issuer: line(certificate.issuer),
    serialNumber: certificate.serialNumber.toLowerCase(),
    fingerprint: certificate.fingerprint256.replaceAll(':', '').toLowerCase(),
    validFrom: readTime(certificate.validFrom),
    validTo: readTime(certificate.validTo),
    weakness: findWeakness(certificate),
  };
}

/** NIST SP 800-131A: shorter keys are no longer acceptable for signatures. */
const LEAST_BITS: Readonly<Record<string, number>> = { rsa: 2048, 'rsa-pss': 2048, dsa: 2048 };

/** Extended key usages under which documents are signed: any, protection of e-mail, document signing (RFC 9336, two of makers). */
const DOCUMENT_USAGES = new Set([
  '2.5.29.37.0',
  '1.3.6.1.5.5.7.3.4',
  '1.3.6.1.5.5.7.3.36',
  '1.2.840.113583.1.1.5',
  '1.3.6.1.4.1.311.10.3.12',
]);

function findWeakness(certificate: X509Certificate): string | undefined {
  const { asymmetricKeyType: kind = '', asymmetricKeyDetails: details } = certificate.publicKey;
  const bits = details?.modulusLength;
  if (bits !== undefined && bits < (LEAST_BITS[kind] ?? 0)) {
    return `its key of ${bits} bits is too short to prove anything`;
  }
  return permitsSigning(certificate) ? undefined : OTHER_USE;
}

const OTHER_USE = 'its certificate was issued for another use than signing documents';

/** Key usage and extended key usages, where it has them, must both permit it (RFC 5280, 4.2.1.12). */
function permitsSigning(certificate: X509Certificate): boolean {
  try {
    const { signsData, usages } = readCertificateFacts(certificate);
    return signsData && (usages === undefined || usages.some((usage) => DOCUMENT_USAGES.has(usage)));
  } catch {
    return false;
  }
}

/**
 * Refuses a certificate that is not valid at the time of signing, `2031-05-04` (some time of that day, UTC) or
 * `2031-05-04T09:30:00Z`.
 *
 * @throws {OutsideFailure} `certificate-expired`, `certificate-not-yet-valid`
 */
export function requireValidity(certificate: SignerCertificate, date: string): void {
  const day = /^\d{4}-\d{2}-\d{2}$/.test(date);
  const [earliest, latest] = day ? [`${date}T00:00:00Z`, `${date}T23:59:59Z`] : [date, date];
  const { name, validFrom, validTo } = certificate;
  if (validTo < earliest) {
    throw new OutsideFailure(
      'certificate-expired',
      `the certificate of ${name} was valid until ${validTo}, and the date of signing is ${date}`,
    );
  }
  if (validFrom > latest) {
    throw new OutsideFailure(
      'certificate-not-yet-valid',
      `the certificate of ${name} is valid from ${validFrom} on, and the date of signing is ${date}`,
    );
  }
}

/** `May  4 09:30:00 2031 GMT`, as the library writes it. */
function readTime(text: string): string {
  return new Date(text).toISOString().replace('.000Z', 'Z');
}
