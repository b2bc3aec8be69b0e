import { createHash, generateKeyPairSync, type KeyObject, sign } from 'node:crypto';
import { NAMESPACE } from '../../src/review/sign-off/ssh-signature.ts';

export function field(content: string | Buffer): Buffer {
  const bytes = Buffer.from(content as string);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(bytes.length);
  return Buffer.concat([length, bytes]);
}

export function arm(blob: Buffer): string {
  const lines = blob.toString('base64').match(/.{1,70}/g) ?? [''];
  return `-----BEGIN SSH SIGNATURE-----\n${lines.join('\n')}\n-----END SSH SIGNATURE-----\n`;
}

export function unarm(armoured: string): Buffer {
  return Buffer.from(armoured.split('\n').slice(1, -2).join(''), 'base64');
}

/** Version 1, with its parts: key, namespace, reserved, hash, signature. */
export function sshsig([key, ...rest]: readonly Buffer[]): Buffer {
  return Buffer.concat([Buffer.from('SSHSIG'), Buffer.of(0, 0, 0, 1), field(key!), ...rest]);
}

export const TOKEN_KEYS = {
  ed25519: 'sk-ssh-ed25519@openssh.com',
  ecdsa: 'sk-ecdsa-sha2-nistp256@openssh.com',
} as const;

interface TokenOptions {
  readonly flags?: number;
  /** The counter in the signature, where it is not the one that was signed. */
  readonly counterTold?: number;
  /** The application in the key, where it is not the one for which the token signs. */
  readonly application?: string;
  readonly hash?: string;
}

/** What a token would sign; PROTOCOL.u2f of OpenSSH, and PROTOCOL.sshsig around it. */
export function signOnToken(
  curve: keyof typeof TOKEN_KEYS,
  text: string,
  { flags = 1, counterTold = 7, application = 'ssh:', hash = 'sha512' }: TokenOptions = {},
): { armoured: string; blob: Buffer; key: Buffer } {
  const { publicKey, privateKey } = makeKeys(curve);
  const type = field(TOKEN_KEYS[curve]);
  const key = Buffer.concat([type, publicFields(curve, publicKey), field(application)]);
  const wrapped = ['', hash].map(field);
  const signed = Buffer.concat([
    Buffer.from('SSHSIG'),
    field(NAMESPACE),
    ...wrapped,
    field(createHash(hash).update(text).digest()),
  ]);
  const digest = (data: string | Buffer): Buffer => createHash('sha256').update(data).digest();
  const counted = (counter: number): Buffer => Buffer.of(flags, 0, 0, 0, counter);
  const data = Buffer.concat([digest('ssh:'), counted(7), digest(signed)]);
  const signature = Buffer.concat([type, signOn(curve, privateKey, data), counted(counterTold)]);
  const blob = sshsig([key, field(NAMESPACE), ...wrapped, field(signature)]);
  return { armoured: arm(blob), blob, key };
}

function makeKeys(curve: keyof typeof TOKEN_KEYS) {
  return curve === 'ed25519'
    ? generateKeyPairSync('ed25519')
    : generateKeyPairSync('ec', { namedCurve: 'P-256' });
}

function publicFields(curve: keyof typeof TOKEN_KEYS, publicKey: KeyObject): Buffer {
  const { x, y } = publicKey.export({ format: 'jwk' });
  const decode = (text: string | undefined): Buffer => Buffer.from(text ?? '', 'base64url');
  if (curve === 'ed25519') return field(decode(x));
  return Buffer.concat([field('nistp256'), field(Buffer.concat([Buffer.of(4), decode(x), decode(y)]))]);
}

function signOn(curve: keyof typeof TOKEN_KEYS, privateKey: KeyObject, data: Buffer): Buffer {
  if (curve === 'ed25519') return field(sign(null, data, privateKey));
  const pair = sign('sha256', data, { key: privateKey, dsaEncoding: 'ieee-p1363' });
  return field(Buffer.concat([multiple(pair.subarray(0, 32)), multiple(pair.subarray(32))]));
}

/** A number that is not negative: RFC 4251, section 5, mpint. */
function multiple(bytes: Buffer): Buffer {
  let first = 0;
  while (first < bytes.length - 1 && bytes[first] === 0) first += 1;
  const digits = bytes.subarray(first);
  return field(digits[0]! >= 0x80 ? Buffer.concat([Buffer.of(0), digits]) : digits);
}
