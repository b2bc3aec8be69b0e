import type { X509Certificate } from 'node:crypto';
import { assembleSignedData, buildSignedAttributes } from '../cms/build-signed-data.ts';
import type { SigningAlgorithm } from '../cms/signing-algorithm.ts';

/** A key that signs, wherever it lies, with its certificates. */
export interface SigningKey {
  /** That of the key first. */
  readonly certificates: readonly X509Certificate[];
  readonly algorithm: SigningAlgorithm;
  /** The signature over attributes in DER. */
  readonly sign: (attributes: Uint8Array) => Promise<Uint8Array>;
}

/** A detached CMS signature over data by the baseline profile, with its certificates (DER). */
export async function signWithKey(data: Uint8Array, key: SigningKey): Promise<Uint8Array> {
  const { algorithm } = key;
  const certificates = key.certificates.map(({ raw }) => raw);
  const attributes = buildSignedAttributes(data, certificates[0]!, algorithm);
  return assembleSignedData(attributes, await key.sign(attributes), certificates, algorithm);
}
