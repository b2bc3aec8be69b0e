import type { Place } from '../../diagnostics/place.ts';
import { type Issue, isWithdrawal, type RegisterEntry, type Withdrawal } from './register-entry.ts';

/** Something that shows that a register is not as it was written, or that an entry contradicts those before it. */
export interface RegisterFault {
  readonly code:
    | 'register-chain'
    | 'register-order'
    | 'register-contradiction'
    | 'register-signature-missing'
    | 'register-uncovered';
  readonly place: Place;
  readonly data: Readonly<Record<string, string>>;
}

/** Holds every entry against those before it. */
export function findRegisterFaults(entries: readonly RegisterEntry[]): readonly RegisterFault[] {
  let chained = false;
  return entries.flatMap((one, i) => {
    const { entry, place, follows, sha256Before, signature, uncovered } = one;
    const { number, revision } = entry;
    const faults: RegisterFault[] = [];
    // Once entries name the digest of what is before them, each does.
    if (follows === undefined ? chained : follows !== sha256Before) {
      faults.push({ code: 'register-chain', place, data: { number } });
    }
    chained ||= follows !== undefined;
    if ((entry.signed === undefined) !== (signature === undefined)) {
      faults.push({ code: 'register-signature-missing', place, data: { number, revision } });
    }
    if (uncovered !== undefined) {
      faults.push({ code: 'register-uncovered', place, data: { number, revision, key: uncovered } });
    }
    const before = entries.slice(0, i).map((other) => other.entry);
    const own = before.filter((other) => other.number === number);
    const twice = own.some((other) => !isWithdrawal(other) && other.revision === revision);
    if (!isWithdrawal(entry) && twice)
      faults.push({ code: 'register-order', place, data: { number, revision } });
    else {
      const reason = contradict(entry, own);
      if (reason !== undefined) {
        faults.push({ code: 'register-contradiction', place, data: { number, revision, reason } });
      }
    }
    return faults;
  });
}

/** Why an entry cannot follow the others of the same document; undefined where it can. */
function contradict(entry: Issue | Withdrawal, before: readonly (Issue | Withdrawal)[]): string | undefined {
  const last = before.at(-1);
  if (last && entry.date < last.date) return `it is dated ${entry.date}, before the entry of ${last.date}`;
  const current = currentAmong(before);
  if (isWithdrawal(entry)) {
    if (current?.revision === entry.revision) return undefined;
    return `it withdraws revision ${entry.revision}, while ${wordCurrent(current)} then`;
  }
  if (entry.supersedes === undefined || entry.supersedes === current?.revision) return undefined;
  return `it supersedes revision ${entry.supersedes}, while ${wordCurrent(current)} then`;
}

function wordCurrent(current: Issue | undefined): string {
  return current ? `revision ${current.revision} was current` : 'no revision was current';
}

/** The issue among entries of one document that counts: the last one, unless it was withdrawn. */
function currentAmong(entries: readonly (Issue | Withdrawal)[]): Issue | undefined {
  const last = entries.at(-1);
  return last && !isWithdrawal(last) ? last : undefined;
}
