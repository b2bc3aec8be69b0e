import { SshFault, SshReader, withLength } from './ssh-encoding.ts';
import { holdsUnder, readKeyFields, readSshKey, type SshKey } from './ssh-key.ts';

// PROTOCOL.certkeys of OpenSSH.

const SUFFIX = '-cert-v01@openssh.com';
const FOR_A_USER = 1;

/** A certificate by which an authority says whose key it is. */
export interface SshCertificate {
  readonly subject: SshKey;
  /** The certified key by itself, in the encoding of SSH. */
  readonly subjectKey: Buffer;
  readonly serial: bigint;
  readonly keyId: string;
  /** Names of the person; where there are none, it is nobody's. */
  readonly principals: readonly string[];
  /** Seconds since 1970: from, and before. */
  readonly validAfter: bigint;
  readonly validBefore: bigint;
  /** The token must have verified the person. */
  readonly verified: boolean;
  /** Public key of the authority. */
  readonly authority: Buffer;
}

/** Whether a key in the encoding of SSH is a certificate. */
export function isCertificate(type: string): boolean {
  return type.endsWith(SUFFIX);
}

/** 'ssh-ed25519-cert-v01@openssh.com' -> 'ssh-ed25519'; the name of a key on a token ends with that of its manufacturer again. */
function plainType(type: string): string {
  const name = type.slice(0, -SUFFIX.length);
  return name.startsWith('sk-') ? `${name}@openssh.com` : name;
}

/**
 * Reads a certificate and makes sure that its authority has signed it.
 *
 * @throws {SshFault} in words where it is damaged, not signed by its authority, of a host, or limited in a way not known here
 */
export function readSshCertificate(blob: Buffer): SshCertificate {
  const reader = new SshReader(blob, 'the certificate');
  const type = plainType(reader.text());
  reader.bytes(); // the nonce
  const from = reader.at;
  const subject = readKeyFields(type, reader);
  const subjectKey = Buffer.concat([withLength(Buffer.from(type)), blob.subarray(from, reader.at)]);
  const serial = reader.long();
  const use = reader.number();
  const keyId = reader.text();
  const principals = readTexts(reader.bytes());
  const validAfter = reader.long();
  const validBefore = reader.long();
  const options = readNames(reader.bytes());
  reader.bytes(); // extensions, which limit nothing
  reader.bytes(); // reserved
  const authority = reader.bytes();
  const signed = blob.subarray(0, reader.at);
  const signature = reader.bytes();
  reader.end();
  if (!holdsUnder(readSshKey(authority), signed, signature)) {
    throw new SshFault('its certificate was changed or not made by the authority that it names');
  }
  if (use !== FOR_A_USER) throw new SshFault('its certificate is that of a host');
  const unknown = options.find((option) => option !== 'verify-required');
  if (unknown !== undefined) throw new SshFault(`its certificate is limited by '${unknown}'`);
  return {
    subject,
    subjectKey,
    serial,
    keyId,
    principals,
    validAfter,
    validBefore,
    verified: options.length > 0,
    authority,
  };
}

function readTexts(bytes: Buffer): readonly string[] {
  const reader = new SshReader(bytes, 'the certificate');
  const texts: string[] = [];
  while (!reader.done) texts.push(reader.text());
  return texts;
}

/** The names of options, each with data. */
function readNames(bytes: Buffer): readonly string[] {
  return readTexts(bytes).filter((_, i) => i % 2 === 0);
}
