import { createHash } from 'node:crypto';
import { isCertificate, readSshCertificate } from './ssh-certificate.ts';
import { SshFault, SshReader } from './ssh-encoding.ts';
import type { SshSignature } from './ssh-signature.ts';

/** The file of a project that names the keys which were revoked: a key revocation list of ssh-keygen(1), or public keys, one a line. */
export const REVOKED_KEYS_FILE = 'revoked_keys';

/** Keys of which nothing is taken any more, whatever the day: who has a stolen key may write any day. */
export interface RevokedKeys {
  /** Public keys in the encoding of SSH, in base64. */
  readonly keys: ReadonlySet<string>;
  /** Digests of such keys, hexadecimal. */
  readonly sha1: ReadonlySet<string>;
  readonly sha256: ReadonlySet<string>;
  readonly certificates: readonly CertificateRevocation[];
}

interface CertificateRevocation {
  /** Public key of the authority; empty for every authority. */
  readonly authority: Buffer;
  readonly serials: readonly ((serial: bigint) => boolean)[];
  readonly keyIds: ReadonlySet<string>;
}

/** The first bytes of a key revocation list: PROTOCOL.krl of OpenSSH. */
const MAGIC = Buffer.from('SSHKRL\n\0');

/**
 * Reads a list of revoked keys.
 *
 * @returns the list, or in words what is wrong with it: none of it may then be left out of account
 */
export function readRevokedKeys(bytes: Uint8Array): RevokedKeys | string {
  const buffer = Buffer.from(bytes);
  try {
    return buffer.subarray(0, MAGIC.length).equals(MAGIC) ? readList(buffer) : readLines(buffer.toString());
  } catch (error) {
    if (error instanceof SshFault) return error.message;
    throw error;
  }
}

/** Whether a key, the certificate with which it came, or the authority of that was revoked. */
export function isRevoked(
  revoked: RevokedKeys,
  { key, certificate }: Pick<SshSignature, 'key' | 'certificate'>,
): boolean {
  const digest = (algorithm: string, of: Buffer): string => createHash(algorithm).update(of).digest('hex');
  const listed = (of: Buffer): boolean =>
    revoked.keys.has(of.toString('base64')) ||
    revoked.sha1.has(digest('sha1', of)) ||
    revoked.sha256.has(digest('sha256', of));
  if (listed(key)) return true;
  if (certificate === undefined) return false;
  const { authority, serial, keyId } = certificate;
  return (
    listed(authority) ||
    revoked.certificates.some(
      (one) =>
        (one.authority.length === 0 || one.authority.equals(authority)) &&
        // An authority that does not number its certificates gives all of them the number 0.
        (one.keyIds.has(keyId) || (serial !== 0n && one.serials.some((names) => names(serial)))),
    )
  );
}

function readLines(text: string): RevokedKeys {
  const keys = new Set<string>();
  text.split(/\r\n|\n|\r/).forEach((line, i) => {
    const content = line.trim();
    if (content === '' || content.startsWith('#')) return;
    const [type = '', encoded = ''] = content.split(/\s+/);
    const key = Buffer.from(encoded, 'base64');
    try {
      if (encoded === '' || new SshReader(key, 'the key').text() !== type) throw new SshFault('');
      keys.add((isCertificate(type) ? readSshCertificate(key).subjectKey : key).toString('base64'));
    } catch {
      throw new SshFault(`line ${i + 1} is no public key`);
    }
  });
  return { keys, sha1: new Set(), sha256: new Set(), certificates: [] };
}

/** Kinds of sections. */
const [CERTIFICATES, KEYS, SHA1, SIGNATURE, SHA256, EXTENSION] = [1, 2, 3, 4, 5, 255];

function readList(buffer: Buffer): RevokedKeys {
  const reader = new SshReader(buffer, 'the list');
  reader.take(MAGIC.length);
  if (reader.number() !== 1) throw new SshFault('it is a key revocation list of a version that is not known');
  reader.take(3 * 8); // its number, its day, flags that mean nothing yet
  reader.bytes(); // reserved
  reader.bytes(); // a comment
  const [keys, sha1, sha256] = [new Set<string>(), new Set<string>(), new Set<string>()];
  const certificates: CertificateRevocation[] = [];
  while (!reader.done) {
    const kind = reader.byte();
    const section = new SshReader(reader.bytes(), 'the list');
    if (kind === CERTIFICATES) certificates.push(readCertificates(section));
    else if (kind === KEYS) while (!section.done) keys.add(section.bytes().toString('base64'));
    else if (kind === SHA1) while (!section.done) sha1.add(section.bytes().toString('hex'));
    else if (kind === SHA256) while (!section.done) sha256.add(section.bytes().toString('hex'));
    // Whoever gives the list vouches for it: a signature on it is not examined.
    else if (kind === SIGNATURE) reader.bytes();
    else if (kind === EXTENSION) passExtension(section);
    else throw new SshFault(`it holds a section of a kind that is not known, ${kind}`);
  }
  return { keys, sha1, sha256, certificates };
}

const [SERIAL_LIST, SERIAL_RANGE, SERIAL_BITMAP, KEY_ID, CERTIFICATE_EXTENSION] = [
  0x20, 0x21, 0x22, 0x23, 0x39,
];

function readCertificates(reader: SshReader): CertificateRevocation {
  const authority = reader.bytes();
  reader.bytes(); // reserved
  const serials: ((serial: bigint) => boolean)[] = [];
  const keyIds = new Set<string>();
  while (!reader.done) {
    const kind = reader.byte();
    const section = new SshReader(reader.bytes(), 'the list');
    if (kind === SERIAL_LIST) {
      const listed = new Set<bigint>();
      while (!section.done) listed.add(section.long());
      serials.push((serial) => listed.has(serial));
    } else if (kind === SERIAL_RANGE) {
      const [first, last] = [section.long(), section.long()];
      section.end();
      serials.push((serial) => first <= serial && serial <= last);
    } else if (kind === SERIAL_BITMAP) {
      const first = section.long();
      const bits = section.integer();
      section.end();
      serials.push((serial) => isSet(bits, serial - first));
    } else if (kind === KEY_ID) while (!section.done) keyIds.add(section.text());
    else if (kind === CERTIFICATE_EXTENSION) passExtension(section);
    else throw new SshFault(`it revokes certificates in a way that is not known, ${kind}`);
  }
  return { authority, serials, keyIds };
}

/** Whether a bit is set, counted from the last of the bytes. */
function isSet(bits: Buffer, index: bigint): boolean {
  if (index < 0n || index >= BigInt(bits.length) * 8n) return false;
  const at = Number(index);
  return (bits[bits.length - 1 - (at >> 3)]! & (1 << (at & 7))) !== 0;
}

/** An extension may be passed over unless it says that it may not. */
function passExtension(section: SshReader): void {
  const name = section.text();
  if (section.byte() !== 0) throw new SshFault(`it needs the extension '${name}', which is not known`);
}
