import { OID } from './object-identifiers.ts';

/** Digests that count, SHA-2 from 256 bits on and SHA-3 (NIST, 2.16.840.1.101.3.4.2), by their names in node:crypto. */
const SOUND: Readonly<Record<string, string>> = {
  [OID.sha256]: 'sha256',
  [OID.sha384]: 'sha384',
  [OID.sha512]: 'sha512',
  '2.16.840.1.101.3.4.2.8': 'sha3-256',
  '2.16.840.1.101.3.4.2.9': 'sha3-384',
  '2.16.840.1.101.3.4.2.10': 'sha3-512',
};

/** Digests with known collisions; NIST SP 800-131A rules them out for signatures. */
const BROKEN: Readonly<Record<string, string>> = {
  '1.2.840.113549.2.2': 'md2',
  '1.2.840.113549.2.4': 'md4',
  '1.2.840.113549.2.5': 'md5',
  [OID.sha1]: 'sha1',
};

/** Why nothing can rest on a digest, by its object identifier; undefined where it is sound. */
export function faultOfDigest(identifier: string): string | undefined {
  if (identifier in SOUND) return undefined;
  const broken = BROKEN[identifier];
  return broken === undefined
    ? `it rests on a digest that is not known to be sound (${identifier})`
    : `it rests on ${broken}, for which other documents can be made`;
}

/** The name under which node:crypto knows a sound digest. */
export function nodeDigest(identifier: string): string {
  return SOUND[identifier]!;
}
