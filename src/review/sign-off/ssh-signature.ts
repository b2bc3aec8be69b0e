import { createHash, createPublicKey, type KeyObject, verify } from 'node:crypto';

// Signatures are made by ssh-keygen; they are verified here, so that a compilation gives the same pages on a machine
// without OpenSSH. Format: PROTOCOL.sshsig of OpenSSH; keys: RFC 4253, 5656, 8709, 8332; PROTOCOL.u2f for keys on tokens.

/** The namespace of our signatures: one made for another purpose is not taken for a sign-off. */
export const NAMESPACE = 'sign-off@surgenote';

/** A signature that fits its text. Whose key it is, the allowed signers tell. */
export interface SshSignature {
  /** The public key in the encoding of SSH. */
  readonly key: Buffer;
  /** 'SHA256:...', as ssh-keygen -l prints it. */
  readonly fingerprint: string;
}

/**
 * Verifies an armoured OpenSSH signature over a text in our namespace.
 *
 * @returns the signature, or in words why it does not hold
 */
export function verifySshSignature(text: string, armoured: string): SshSignature | string {
  try {
    return verifyBlob(Buffer.from(text), readArmour(armoured));
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    // Node refuses keys that are no points of their curve, and the like.
    return 'the signature is damaged';
  }
}

class Refusal extends Error {}

function readArmour(armoured: string): Buffer {
  const match = /^\s*-----BEGIN SSH SIGNATURE-----\s([A-Za-z0-9+/=\s]+)-----END SSH SIGNATURE-----\s*$/.exec(
    armoured,
  );
  if (!match) throw new Refusal('it is no SSH signature');
  return Buffer.from(match[1]!.replace(/\s/g, ''), 'base64');
}

function verifyBlob(message: Buffer, blob: Buffer): SshSignature {
  const reader = new Reader(blob);
  if (reader.take(6).toString() !== 'SSHSIG' || reader.number() !== 1) {
    throw new Refusal('it is no SSH signature of a known version');
  }
  const key = reader.bytes();
  const namespace = reader.bytes();
  const reserved = reader.bytes();
  const hash = reader.bytes();
  const signature = reader.bytes();
  reader.end();
  if (namespace.toString() !== NAMESPACE) {
    throw new Refusal(`it was made for '${namespace.toString()}' and not for '${NAMESPACE}'`);
  }
  const algorithm = hash.toString();
  if (algorithm !== 'sha256' && algorithm !== 'sha512')
    throw new Refusal(`its hash '${algorithm}' is not known`);
  const digest = createHash(algorithm).update(message).digest();
  const signed = Buffer.concat([
    Buffer.from('SSHSIG'),
    ...[namespace, reserved, hash, digest].map(withLength),
  ]);
  if (!holds(readKey(key), signed, new Reader(signature))) throw new Refusal('it does not fit the statement');
  const print = createHash('sha256').update(key).digest('base64').replace(/=+$/, '');
  return { key, fingerprint: `SHA256:${print}` };
}

interface SshKey {
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

function readKey(blob: Buffer): SshKey {
  const reader = new Reader(blob);
  const type = reader.bytes().toString();
  const onToken = type.startsWith('sk-');
  const finish = (jwk: Record<string, string>): SshKey => {
    const application = onToken ? reader.bytes() : undefined;
    reader.end();
    return {
      type,
      key: createPublicKey({ key: jwk, format: 'jwk' }),
      ...(application === undefined ? {} : { application }),
    };
  };
  if (type === 'ssh-ed25519' || type === 'sk-ssh-ed25519@openssh.com') {
    return finish({ kty: 'OKP', crv: 'Ed25519', x: reader.bytes().toString('base64url') });
  }
  if (type.startsWith('ecdsa-sha2-') || type === 'sk-ecdsa-sha2-nistp256@openssh.com') {
    const curve = CURVES[reader.bytes().toString()];
    const point = reader.bytes();
    if (!curve || point[0] !== 4 || point.length !== 1 + 2 * curve.size)
      throw new Refusal('its key is damaged');
    const [x, y] = [point.subarray(1, 1 + curve.size), point.subarray(1 + curve.size)];
    return finish({ kty: 'EC', crv: curve.crv, x: x.toString('base64url'), y: y.toString('base64url') });
  }
  if (type === 'ssh-rsa') {
    const [e, n] = [reader.integer(), reader.integer()];
    if (n.length < LEAST_RSA_BYTES) throw new Refusal(`its key of ${n.length * 8} bits is too short`);
    return finish({ kty: 'RSA', e: e.toString('base64url'), n: n.toString('base64url') });
  }
  throw new Refusal(`keys of the kind '${type}' are not known`);
}

function holds({ type, key, application }: SshKey, signed: Buffer, signature: Reader): boolean {
  const kind = signature.bytes().toString();
  const value = signature.bytes();
  const data = application === undefined ? signed : tokenData(application, signed, signature);
  signature.end();
  if (type === 'ssh-rsa') {
    const hash = { 'rsa-sha2-256': 'sha256', 'rsa-sha2-512': 'sha512' }[kind];
    if (hash === undefined) throw new Refusal(`signatures of the kind '${kind}' are not accepted`);
    return verify(hash, data, key, value);
  }
  if (kind !== type) throw new Refusal('the key and the signature are of different kinds');
  if (type.includes('ed25519')) return verify(null, data, key, value);
  const { size, hash } = CURVES[/nistp\d+/.exec(type)![0]]!;
  const numbers = new Reader(value);
  const pair = [numbers.integer(), numbers.integer()].map((number) => padTo(number, size));
  numbers.end();
  return verify(hash, data, { key, dsaEncoding: 'ieee-p1363' }, Buffer.concat(pair));
}

/** What a token signs: its application, flags and counter stand around the digest. A touch must have been asked for. */
function tokenData(application: Buffer, signed: Buffer, signature: Reader): Buffer {
  const flags = signature.take(1);
  const counter = signature.take(4);
  if ((flags[0]! & 1) === 0) throw new Refusal('the token signed without being touched');
  const digest = (data: Buffer): Buffer => createHash('sha256').update(data).digest();
  return Buffer.concat([digest(application), flags, counter, digest(signed)]);
}

function padTo(number: Buffer, size: number): Buffer {
  if (number.length > size) throw new Refusal('the signature is damaged');
  return Buffer.concat([Buffer.alloc(size - number.length), number]);
}

function withLength(bytes: Buffer): Buffer {
  const length = Buffer.alloc(4);
  length.writeUInt32BE(bytes.length);
  return Buffer.concat([length, bytes]);
}

/** Reads the encoding of SSH, RFC 4251, section 5. */
class Reader {
  readonly #bytes: Buffer;
  #at = 0;

  constructor(bytes: Buffer) {
    this.#bytes = bytes;
  }

  take(count: number): Buffer {
    if (this.#at + count > this.#bytes.length) throw new Refusal('the signature is cut off');
    this.#at += count;
    return this.#bytes.subarray(this.#at - count, this.#at);
  }

  number(): number {
    return this.take(4).readUInt32BE();
  }

  bytes(): Buffer {
    return this.take(this.number());
  }

  /** A number that is not negative, without leading zeros. */
  integer(): Buffer {
    const bytes = this.bytes();
    const first = bytes.findIndex((byte) => byte !== 0);
    return first < 0 ? Buffer.alloc(0) : bytes.subarray(first);
  }

  end(): void {
    if (this.#at !== this.#bytes.length) throw new Refusal('the signature is damaged');
  }
}
