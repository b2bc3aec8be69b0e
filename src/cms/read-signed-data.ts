import { type AsnType, GeneralizedTime, UTCTime } from 'asn1js';
import {
  contextTag,
  decode,
  identifierOf,
  nameCertificate,
  octetsOf,
  partsOf,
  rawOf,
  wordTime,
} from './der.ts';
import { OID } from './object-identifiers.ts';

/** What a CMS signature (RFC 5652) of one signer says of itself; nothing of it is verified here. */
export interface SignedDataFacts {
  /** Object identifier of the digest on which it rests. */
  readonly digest: string;
  /** The time of signing among its signed attributes, such as `2031-05-04T09:30:00Z`; the baseline profile of PDF has none there. */
  readonly signingTime: string | undefined;
  /** Its signed attributes name its certificate, by SHA-1 (RFC 2634) or another digest (RFC 5035). */
  readonly namesCertificate: boolean;
  /** What a time stamp of the signature is made over. */
  readonly signatureValue: Uint8Array;
  /** Time stamps of the signature, each a CMS signature itself. */
  readonly timeStamps: readonly Uint8Array[];
  /** In DER, in the order in which they stand. */
  readonly certificates: readonly Uint8Array[];
  /** That of the key, where the signature names it by issuer and serial number. */
  readonly certificate: Uint8Array | undefined;
  readonly contentType: string;
  /** The content, where it is inside. */
  readonly content: Uint8Array | undefined;
}

/**
 * Reads a CMS signature in BER or DER.
 *
 * @throws {Error} where it is none, or not that of one signer
 */
export function readSignedData(cms: Uint8Array): SignedDataFacts {
  const [type, holder] = partsOf(decode(cms));
  if (identifierOf(type) !== OID.signedData) throw new Error('it is no signature');
  const parts = partsOf(partsOf(holder)[0]);
  const signers = partsOf(parts.at(-1));
  if (signers.length !== 1) throw new Error(`it holds signatures of ${signers.length} signers`);
  const [contentType, content] = partsOf(parts[2]);
  const certificates = parts.slice(3, -1).find((part) => contextTag(part) === 0);
  // Other forms than X.509 certificates are tagged by the context.
  const held = (certificates ? partsOf(certificates) : []).filter((one) => contextTag(one) === undefined);
  const wanted = partsOf(signers[0])[1]!;
  const own = held.find((one) => namesSame(wanted, one));
  return {
    ...readSigner(signers[0]!),
    certificates: held.map(rawOf),
    certificate: own && rawOf(own),
    contentType: identifierOf(contentType),
    content: content === undefined ? undefined : octetsOf(partsOf(content)[0]),
  };
}

/** Whether an identifier of a signer, issuer and serial number, is that of a certificate. */
function namesSame(identifier: AsnType, certificate: AsnType): boolean {
  if (contextTag(identifier) !== undefined) return false;
  const { issuer, serialNumber } = nameCertificate(certificate);
  const parts = partsOf(identifier).map(rawOf);
  return [issuer, serialNumber].every((part, i) => Buffer.compare(parts[i]!, rawOf(part)) === 0);
}

/** SignerInfo (RFC 5652, 5.3): version, identifier, digest, attributes, algorithm, signature, attributes that are not signed. */
function readSigner(
  signer: AsnType,
): Pick<SignedDataFacts, 'digest' | 'signingTime' | 'namesCertificate' | 'signatureValue' | 'timeStamps'> {
  const parts = partsOf(signer);
  const digest = identifierOf(partsOf(parts[2])[0]);
  const signed = parts.slice(3).find((part) => contextTag(part) === 0);
  const unsigned = parts.slice(3).find((part) => contextTag(part) === 1);
  const signature = parts.findLast((part) => contextTag(part) === undefined);
  const [time] = valuesOf(signed, OID.signingTime);
  return {
    digest,
    signingTime: time && readTime(time),
    namesCertificate: [OID.signingCertificate, OID.signingCertificateV2].some(
      (type) => valuesOf(signed, type).length > 0,
    ),
    signatureValue: octetsOf(signature),
    timeStamps: valuesOf(unsigned, OID.signatureTimeStamp).map(rawOf),
  };
}

function valuesOf(attributes: AsnType | undefined, type: string): AsnType[] {
  if (attributes === undefined) return [];
  return partsOf(attributes).flatMap((attribute) => {
    const [name, values] = partsOf(attribute);
    return identifierOf(name) === type ? partsOf(values) : [];
  });
}

function readTime(element: AsnType): string {
  if (!(element instanceof GeneralizedTime || element instanceof UTCTime))
    throw new Error('its time is none');
  return wordTime(element.toDate());
}
