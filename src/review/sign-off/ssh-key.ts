import { createHash, createPublicKey, type KeyObject, verify } from 'node:crypto';
import { SshFault, SshReader } from './ssh-encoding.ts';

// Keys: RFC 4253, 5656, 8709, 8332; PROTOCOL.u2f of OpenSSH for keys on tokens.

/** A public key. */
export interface SshKey {
  readonly type: string;
  readonly key: KeyObject;
  /** Of a key on a token. */
  readonly application?: Buffer;
}

const CURVES: Readonly<
  Record<string, { readonly crv: string; readonly size: number; readonly hash: string }>
> = {
  nistp256: { crv: 'P-256', size: 32, hash: 'sha256' },
  nistp384: { crv: 'P-384', size: 48, hash: 'sha384' },
  nistp521: { crv: 'P-521', size: 66, hash: 'sha512' },
};

/** 2048 bits: NIST SP 800-131A. */
const LEAST_RSA_BYTES = 256;

const EC = /^ecdsa-sha2-(nistp(?:256|384|521))$/;

/**
 * Reads a public key in the encoding of SSH.
 *
 * @throws {SshFault} in words where it is damaged, too short or of a kind that is not known
 */
export function readSshKey(blob: Buffer): SshKey {
  const reader = new SshReader(blob);
  const key = readKeyFields(reader.text(), reader);
  reader.end();
  return key;
}

/** Reads the fields that follow the name of a kind: in a key, and in a certificate. */
export function readKeyFields(type: string, reader: SshReader): SshKey {
  const onToken = type.startsWith('sk-');
  const finish = (jwk: Record<string, string>): SshKey => {
    const application = onToken ? reader.bytes() : undefined;
    const key = createPublicKey({ key: jwk, format: 'jwk' });
    return { type, key, ...(application === undefined ? {} : { application }) };
  };
  if (type === 'ssh-ed25519' || type === 'sk-ssh-ed25519@openssh.com') {
    return finish({ kty: 'OKP', crv: 'Ed25519', x: reader.bytes().toString('base64url') });
  }
  if (EC.test(type) || type === 'sk-ecdsa-sha2-nistp256@openssh.com') {
    const name = reader.text();
    const curve = CURVES[name];
    const point = reader.bytes();
    if (!curve || !type.includes(name) || point[0] !== 4 || point.length !== 1 + 2 * curve.size)
      throw new SshFault('its key is damaged');
    const [x, y] = [point.subarray(1, 1 + curve.size), point.subarray(1 + curve.size)];
    return finish({ kty: 'EC', crv: curve.crv, x: x.toString('base64url'), y: y.toString('base64url') });
  }
  if (type === 'ssh-rsa') {
    const [e, n] = [reader.integer(), reader.integer()];
    if (n.length < LEAST_RSA_BYTES) throw new SshFault(`its key of ${n.length * 8} bits is too short`);
    return finish({ kty: 'RSA', e: e.toString('base64url'), n: n.toString('base64url') });
  }
  throw new SshFault(`keys of the kind '${type}' are not known`);
}

/** The flags that a token signs: touched, and the person verified (by PIN or the like). */
const TOUCHED = 1;
const VERIFIED = 4;

export interface KeyUse {
  /** A token must have verified the person, not only been touched. */
  readonly verified?: boolean;
}

/**
 * Whether a key made a signature over data. A token must have been touched.
 *
 * @throws {SshFault} where the signature is damaged or of a kind that is not accepted
 */
export function holdsUnder(
  { type, key, application }: SshKey,
  signed: Buffer,
  signature: Buffer,
  use: KeyUse = {},
): boolean {
  const reader = new SshReader(signature);
  const kind = reader.text();
  const value = reader.bytes();
  const data = application === undefined ? signed : tokenData(application, signed, reader, use);
  reader.end();
  if (use.verified && application === undefined) throw new SshFault('it was not made on a token');
  if (type === 'ssh-rsa') {
    const hash = { 'rsa-sha2-256': 'sha256', 'rsa-sha2-512': 'sha512' }[kind];
    if (hash === undefined) throw new SshFault(`signatures of the kind '${kind}' are not accepted`);
    return verify(hash, data, key, value);
  }
  if (kind !== type) throw new SshFault('the key and the signature are of different kinds');
  if (type.includes('ed25519')) return verify(null, data, key, value);
  const { size, hash } = CURVES[/nistp\d+/.exec(type)![0]]!;
  const numbers = new SshReader(value);
  const pair = [numbers.integer(), numbers.integer()].map((number) => padTo(number, size));
  numbers.end();
  return verify(hash, data, { key, dsaEncoding: 'ieee-p1363' }, Buffer.concat(pair));
}

/** What a token signs: its application, flags and counter stand around the digest. */
function tokenData(application: Buffer, signed: Buffer, signature: SshReader, use: KeyUse): Buffer {
  const flags = signature.take(1);
  const counter = signature.take(4);
  if ((flags[0]! & TOUCHED) === 0) throw new SshFault('the token signed without being touched');
  if (use.verified && (flags[0]! & VERIFIED) === 0) {
    throw new SshFault('the token signed without verifying the person');
  }
  const digest = (data: Buffer): Buffer => createHash('sha256').update(data).digest();
  return Buffer.concat([digest(application), flags, counter, digest(signed)]);
}

function padTo(number: Buffer, size: number): Buffer {
  if (number.length > size) throw new SshFault('the signature is damaged');
  return Buffer.concat([Buffer.alloc(size - number.length), number]);
}

/** 'SHA256:...', as ssh-keygen -l prints it. */
export function fingerprintOf(key: Buffer): string {
  return `SHA256:${createHash('sha256').update(key).digest('base64').replace(/=+$/, '')}`;
}
