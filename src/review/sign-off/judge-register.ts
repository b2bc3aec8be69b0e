import type { Place } from '../../diagnostics/place.ts';
import { judgeSignature, type SignatureVerdict, type SignerLists } from './judge-signature.ts';
import type { Issue, RegisterEntry, Withdrawal } from './register-entry.ts';
import { ISSUE_NAMESPACE } from './ssh-signature.ts';

/** An entry of a register, and whether its signature holds. */
export interface JudgedEntry {
  readonly entry: Issue | Withdrawal;
  readonly place: Place;
  /** Undefined where nobody signed it. */
  readonly verdict: SignatureVerdict | undefined;
}

/** Judges the signature of every entry: it must be by a key that may issue for the person whom the entry names. */
export function judgeRegister(
  entries: readonly RegisterEntry[],
  signers: SignerLists,
): readonly JudgedEntry[] {
  return entries.map(({ entry, place, text, signature }) => ({
    entry,
    place,
    verdict: signature === undefined ? undefined : judge(entry, { text, signature }, signers),
  }));
}

function judge(
  { principal, date: day }: Issue | Withdrawal,
  signed: { readonly text: string; readonly signature: string },
  signers: SignerLists,
): SignatureVerdict {
  if (principal === undefined) {
    const reason = 'it does not say by which name lists of signers know the person';
    return { held: false, reason, silent: false };
  }
  return judgeSignature(signed, { principal, namespace: ISSUE_NAMESPACE, day }, signers);
}
