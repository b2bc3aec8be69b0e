import { constants, type KeyObject, verify } from 'node:crypto';
import type { AsnType } from 'asn1js';
import { contextTag, identifierOf, partsOf } from './der.ts';
import { faultOfDigest, nodeDigest } from './digest-names.ts';
import { OID } from './object-identifiers.ts';

/** Signature algorithms that name their digest: RFC 8017, RFC 5758. */
const WITH_DIGEST: Readonly<Record<string, string>> = {
  '1.2.840.113549.1.1.11': 'sha256',
  '1.2.840.113549.1.1.12': 'sha384',
  '1.2.840.113549.1.1.13': 'sha512',
  '1.2.840.10045.4.3.2': 'sha256',
  '1.2.840.10045.4.3.3': 'sha384',
  '1.2.840.10045.4.3.4': 'sha512',
};

/**
 * Whether a key made a signature over data, by an algorithm that a certificate, list or answer names (AlgorithmIdentifier). False too for
 * algorithms that rest on a broken digest, and those that are not known here.
 *
 * @throws {Error} where the identifier cannot be read
 */
export function verifySignatureValue(
  algorithm: AsnType,
  data: Uint8Array,
  signature: Uint8Array,
  key: KeyObject,
): boolean {
  const [name, parameters] = partsOf(algorithm);
  const identifier = identifierOf(name);
  const digest = WITH_DIGEST[identifier];
  try {
    if (digest !== undefined) return verify(digest, data, key, signature);
    if (identifier !== OID.rsaPss || parameters === undefined) return false;
    const hash = partsOf(parameters).find((part) => contextTag(part) === 0);
    const named = hash === undefined ? '' : identifierOf(partsOf(partsOf(hash)[0])[0]);
    if (faultOfDigest(named) !== undefined) return false;
    const pss = { padding: constants.RSA_PKCS1_PSS_PADDING, saltLength: constants.RSA_PSS_SALTLEN_AUTO };
    return verify(nodeDigest(named), data, { key, ...pss }, signature);
  } catch {
    // The key is of another kind than the algorithm.
    return false;
  }
}
