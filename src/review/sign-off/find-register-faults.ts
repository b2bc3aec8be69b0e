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

/** The entries of one document so far. */
interface History {
  readonly revisions: Set<string>;
  last?: Issue | Withdrawal;
}

/** Holds every entry against those before it. */
export function findRegisterFaults(entries: readonly RegisterEntry[]): readonly RegisterFault[] {
  const documents = new Map<string, History>();
  let chained = false;
  return entries.flatMap(({ entry, place, follows, sha256Before, signature, uncovered }) => {
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
    const history = documents.get(number) ?? { revisions: new Set() };
    documents.set(number, history);
    if (!isWithdrawal(entry) && history.revisions.has(revision))
      faults.push({ code: 'register-order', place, data: { number, revision } });
    else {
      const reason = contradict(entry, history.last);
      if (reason !== undefined) {
        faults.push({ code: 'register-contradiction', place, data: { number, revision, reason } });
      }
    }
    if (!isWithdrawal(entry)) history.revisions.add(revision);
    history.last = entry;
    return faults;
  });
}

/** Why an entry cannot follow the last one of the same document; undefined where it can. */
function contradict(entry: Issue | Withdrawal, last: Issue | Withdrawal | undefined): string | undefined {
  if (last && entry.date < last.date) return `it is dated ${entry.date}, before the entry of ${last.date}`;
  // The last one counts, unless it is a withdrawal.
  const current = last && !isWithdrawal(last) ? last : undefined;
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
