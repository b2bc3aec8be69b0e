import { createHash } from 'node:crypto';
import {
  type AsnType,
  Constructed,
  Integer,
  ObjectIdentifier,
  OctetString,
  Sequence,
  Set as SetOf,
} from 'asn1js';
import { contextTag, decode, encode, nameCertificate, partsOf } from './der.ts';
import { OID } from './object-identifiers.ts';
import type { SigningAlgorithm } from './signing-algorithm.ts';

/**
 * The signed attributes of a signature by the baseline profile (EN 319 142-1, level B-B, recalled): content type, digest of the data, digest of
 * the certificate (RFC 5035). No signing time: that stands in the signature dictionary of the PDF, and there alone. What is returned, a SET
 * in DER, is what the key signs (RFC 5652, 5.4).
 *
 * @param certificate of the key that signs, in DER
 */
export function buildSignedAttributes(
  data: Uint8Array,
  certificate: Uint8Array,
  { digest }: SigningAlgorithm,
): Uint8Array {
  const attributes = [
    attribute(OID.contentType, new ObjectIdentifier({ value: OID.data })),
    attribute(OID.messageDigest, octets(createHash(digest).update(data).digest())),
    attribute(OID.signingCertificateV2, describeCertificate(certificate)),
  ];
  return encode(new SetOf({ value: sortAsDer(attributes) }));
}

/** SigningCertificateV2: one certificate, by its SHA-256, which is the default digest there. */
function describeCertificate(certificate: Uint8Array): Sequence {
  const digest = octets(createHash('sha256').update(certificate).digest());
  return sequence(sequence(sequence(digest)));
}

/**
 * A detached CMS signature (RFC 5652, DER) of its parts.
 *
 * @param attributes what `buildSignedAttributes` gave
 * @param signature over them
 * @param certificates in DER, that of the key first
 */
export function assembleSignedData(
  attributes: Uint8Array,
  signature: Uint8Array,
  certificates: readonly Uint8Array[],
  { digestIdentifier, signatureIdentifier }: SigningAlgorithm,
): Uint8Array {
  const parsed = certificates.map(decode);
  const { issuer, serialNumber } = nameCertificate(parsed[0]!);
  const signer = sequence(
    new Integer({ value: 1 }),
    sequence(issuer, serialNumber),
    digestIdentifier,
    tagged(0, partsOf(decode(attributes))),
    signatureIdentifier,
    octets(signature),
  );
  const signedData = sequence(
    new Integer({ value: 1 }),
    new SetOf({ value: [digestIdentifier] }),
    sequence(new ObjectIdentifier({ value: OID.data })),
    tagged(0, sortAsDer(parsed)),
    new SetOf({ value: [signer] }),
  );
  return encode(sequence(new ObjectIdentifier({ value: OID.signedData }), tagged(0, [signedData])));
}

/**
 * A CMS signature with a time stamp of its signature value among the attributes that are not signed (RFC 3161, appendix A).
 *
 * @param token the time stamp, itself a CMS signature in DER
 * @throws {Error} where the signature has not exactly one signer, or has such attributes already
 */
export function addSignatureTimeStamp(cms: Uint8Array, token: Uint8Array): Uint8Array {
  const whole = decode(cms);
  const signers = partsOf(partsOf(partsOf(partsOf(whole)[1])[0]).at(-1));
  if (signers.length !== 1) throw new Error(`it holds signatures of ${signers.length} signers`);
  const parts = partsOf(signers[0]);
  if (parts.some((part) => contextTag(part) === 1)) throw new Error('it has unsigned attributes already');
  parts.push(tagged(1, [attribute(OID.signatureTimeStamp, decode(token))]));
  return encode(whole);
}

function attribute(type: string, value: AsnType): Sequence {
  return sequence(new ObjectIdentifier({ value: type }), new SetOf({ value: [value] }));
}

function sequence(...value: AsnType[]): Sequence {
  return new Sequence({ value: value as never });
}

function octets(bytes: Uint8Array): OctetString {
  return new OctetString({ valueHex: Uint8Array.from(bytes).buffer });
}

function tagged(tagNumber: number, value: readonly AsnType[]): Constructed {
  return new Constructed({ idBlock: { tagClass: 3, tagNumber }, value: [...value] as never });
}

/** DER has the elements of a set in the order of their bytes (ITU-T X.690, 11.6). */
function sortAsDer(elements: readonly AsnType[]): AsnType[] {
  return elements
    .map((element) => ({ element, bytes: encode(element) }))
    .sort((a, b) => Buffer.compare(a.bytes, b.bytes))
    .map(({ element }) => element);
}
