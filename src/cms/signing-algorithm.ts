import { constants, type KeyObject, sign } from 'node:crypto';
import { Constructed, Integer, Null, ObjectIdentifier, Sequence } from 'asn1js';
import { OID } from './object-identifiers.ts';

/** How keys of one kind sign, and what a signature says of that (RFC 5652, 10.1). */
export interface SigningAlgorithm {
  readonly digest: 'sha256';
  readonly digestIdentifier: Sequence;
  readonly signatureIdentifier: Sequence;
  /** What a program that signs with such a key must give: for messages. */
  readonly form: string;
  readonly sign: (data: Uint8Array, key: KeyObject) => Buffer;
}

function identifier(value: string, ...parameters: readonly (Null | Sequence)[]): Sequence {
  return new Sequence({ value: [new ObjectIdentifier({ value }), ...parameters] });
}

const PSS_SALT = 32;

/** RSASSA-PSS-params of RFC 4055: SHA-256 throughout. */
function pssParameters(): Sequence {
  const tagged = (tagNumber: number, value: Sequence | Integer): Constructed =>
    new Constructed({ idBlock: { tagClass: 3, tagNumber }, value: [value] });
  return new Sequence({
    value: [
      tagged(0, identifier(OID.sha256)),
      tagged(1, identifier(OID.mgf1, identifier(OID.sha256))),
      tagged(2, new Integer({ value: PSS_SALT })),
    ],
  });
}

/**
 * The algorithm for a key of the kind that `KeyObject.asymmetricKeyType` names; undefined where no signature of ours is made with such
 * keys: DSA is no longer approved for signing (FIPS 186-5), and openssl 3.0, by which signatures are verified, knows no Ed25519 in a CMS.
 */
export function signingAlgorithm(kind: string | undefined): SigningAlgorithm | undefined {
  const sha256 = { digest: 'sha256', digestIdentifier: identifier(OID.sha256) } as const;
  switch (kind) {
    case 'rsa':
      return {
        ...sha256,
        signatureIdentifier: identifier(OID.rsa, new Null()),
        form: 'RSA, PKCS #1 version 1.5, over SHA-256',
        sign: (data, key) => sign('sha256', data, key),
      };
    case 'rsa-pss':
      return {
        ...sha256,
        signatureIdentifier: identifier(OID.rsaPss, pssParameters()),
        form: 'RSA-PSS over SHA-256 with a salt of 32 bytes',
        sign: (data, key) =>
          sign('sha256', data, { key, padding: constants.RSA_PKCS1_PSS_PADDING, saltLength: PSS_SALT }),
      };
    case 'ec':
      return {
        ...sha256,
        signatureIdentifier: identifier(OID.ecdsaWithSha256),
        form: 'ECDSA over SHA-256, r and s as a sequence in DER',
        sign: (data, key) => sign('sha256', data, key),
      };
    default:
      return undefined;
  }
}
