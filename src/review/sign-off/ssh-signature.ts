import { createHash } from 'node:crypto';
import { isCertificate, readSshCertificate, type SshCertificate } from './ssh-certificate.ts';
import { SshFault, SshReader, withLength } from './ssh-encoding.ts';
import { fingerprintOf, holdsUnder, readSshKey } from './ssh-key.ts';

// Signatures are made by ssh-keygen; they are verified here, so that a compilation gives the same pages on a machine
// without OpenSSH. Format: PROTOCOL.sshsig of OpenSSH.

/** What our signatures are made for: one made for another purpose is not taken for it. */
export const NAMESPACE = 'sign-off@surgenote';
/** Of entries in the register of issues. */
export const ISSUE_NAMESPACE = 'issue@surgenote';

/** That of an RSA key of 16 384 bits has 6 kB; the rest is room for certificates. What is longer is not looked into. */
const MOST_CHARACTERS = 100_000;

/** A signature that fits its text. Whose key it is, the allowed signers tell. */
export interface SshSignature {
  /** The public key in the encoding of SSH; of a certificate the key that it certifies. */
  readonly key: Buffer;
  /** 'SHA256:...', as ssh-keygen -l prints it. */
  readonly fingerprint: string;
  /** Where the signature came with one: its authority's signature holds. */
  readonly certificate?: SshCertificate;
}

/**
 * Verifies an armoured OpenSSH signature over a text.
 *
 * @param purpose the namespace in which it must have been made
 * @returns the signature, or in words why it does not hold
 */
export function verifySshSignature(
  text: string,
  armoured: string,
  purpose: string = NAMESPACE,
): SshSignature | string {
  try {
    return verifyBlob(Buffer.from(text), readArmour(armoured), purpose);
  } catch (error) {
    if (error instanceof SshFault) return error.message;
    // Node refuses keys that are no points of their curve, and the like.
    return 'the signature is damaged';
  }
}

function readArmour(armoured: string): Buffer {
  if (armoured.length > MOST_CHARACTERS)
    throw new SshFault(
      `it has ${armoured.length} characters, and no SSH signature has more than ${MOST_CHARACTERS}`,
    );
  const match = /^\s*-----BEGIN SSH SIGNATURE-----\s([A-Za-z0-9+/=\s]+)-----END SSH SIGNATURE-----\s*$/.exec(
    armoured,
  );
  if (!match) throw new SshFault('it is no SSH signature');
  return Buffer.from(match[1]!.replace(/\s/g, ''), 'base64');
}

function verifyBlob(message: Buffer, blob: Buffer, purpose: string): SshSignature {
  const reader = new SshReader(blob);
  if (reader.take(6).toString() !== 'SSHSIG' || reader.number() !== 1) {
    throw new SshFault('it is no SSH signature of a known version');
  }
  const key = reader.bytes();
  const namespace = reader.bytes();
  const reserved = reader.bytes();
  const hash = reader.bytes();
  const signature = reader.bytes();
  reader.end();
  if (namespace.toString() !== purpose) {
    throw new SshFault(`it was made for '${namespace.toString()}' and not for '${purpose}'`);
  }
  const algorithm = hash.toString();
  if (algorithm !== 'sha256' && algorithm !== 'sha512')
    throw new SshFault(`its hash '${algorithm}' is not known`);
  const digest = createHash(algorithm).update(message).digest();
  const signed = Buffer.concat([
    Buffer.from('SSHSIG'),
    ...[namespace, reserved, hash, digest].map(withLength),
  ]);
  const certificate = isCertificate(new SshReader(key).text()) ? readSshCertificate(key) : undefined;
  const signer = certificate?.subject ?? readSshKey(key);
  if (!holdsUnder(signer, signed, signature, { verified: certificate?.verified ?? false })) {
    throw new SshFault('it does not fit what was signed');
  }
  const plain = certificate?.subjectKey ?? key;
  return {
    key: plain,
    fingerprint: fingerprintOf(plain),
    ...(certificate === undefined ? {} : { certificate }),
  };
}
