import {
  ALLOWED_SIGNERS_FILE,
  type AllowedSigner,
  refuseSigner,
  type SignerRequest,
} from './allowed-signers.ts';
import { isRevoked, type RevokedKeys } from './revoked-keys.ts';
import { verifySshSignature } from './ssh-signature.ts';

/** Whose keys may sign, and which may not any more. */
export interface SignerLists {
  /** Undefined where there is no such list. */
  readonly allowed: readonly AllowedSigner[] | undefined;
  readonly revoked: readonly RevokedKeys[];
}

/** What signed texts of ours have in common. */
export interface SignedText {
  readonly text: string;
  /** OpenSSH signature, armoured. */
  readonly signature: string;
}

/** Whether a signature holds, and whose key made it. */
export type SignatureVerdict =
  | { readonly held: true; readonly fingerprint: string }
  | {
      readonly held: false;
      readonly reason: string;
      /** Of the key, where the signature fits the text and the key may not sign. */
      readonly fingerprint?: string;
      /** The list of signers says nothing of the person on that day, neither for nor against. */
      readonly silent: boolean;
    };

/** Judges one signature: that it fits its text, and that its key may sign for that person, for that purpose, on that day. */
export function judgeSignature(
  { text, signature }: SignedText,
  request: SignerRequest,
  { allowed, revoked }: SignerLists,
): SignatureVerdict {
  const found = verifySshSignature(text, signature, request.namespace);
  if (typeof found === 'string') {
    return { held: false, reason: `its signature does not hold: ${found}`, silent: false };
  }
  const { fingerprint } = found;
  if (revoked.some((list) => isRevoked(list, found))) {
    return { held: false, reason: 'its key was revoked', fingerprint, silent: false };
  }
  if (allowed === undefined) {
    const reason = `the project has no ${ALLOWED_SIGNERS_FILE}, which says whose key it is`;
    return { held: false, reason, fingerprint, silent: true };
  }
  const refusal = refuseSigner(allowed, found, request);
  if (!refusal) return { held: true, fingerprint };
  const reason = `the signer is not allowed: ${refusal.reason}`;
  return { held: false, reason, fingerprint, silent: refusal.silent };
}
