import type { Json } from '../../evaluation/machine-report.ts';
import type { SignOff } from './judge-sign-offs.ts';
import type { NoteReview } from './note-review.ts';
import type { Issue } from './register-entry.ts';

const NOT_SIGNED = 'not signed cryptographically';
/** Of a statement that says it is signed, where no key was found to have signed it. */
const NOT_HELD = 'no SSH signature of it holds';

/** 'valid: Ilse Brandreth, 2031-05-14, SSH key SHA256:...' */
export function wordSignOff(signOff: SignOff): string {
  const { state, reason, statement } = signOff;
  if (!statement) return state;
  const head = reason === undefined ? state : `${state} (${reason})`;
  return `${head}: ${[statement.name, statement.date, ...wordProof(signOff)].join(', ')}`;
}

/** Key and version, each where there is something to say. */
export function wordProof({ statement, fingerprint, refusedKey, recomputedBy }: SignOff): string[] {
  if (!statement) return [];
  const owner = statement.principal === undefined ? '' : ` of '${statement.principal}'`;
  const key =
    fingerprint !== undefined
      ? `SSH key ${fingerprint}${owner}`
      : refusedKey !== undefined
        ? `signed with SSH key ${refusedKey}, which is not accepted`
        : statement.signature === undefined
          ? NOT_SIGNED
          : NOT_HELD;
  const version =
    recomputedBy === undefined
      ? []
      : [`signed with ${statement.software}, recomputed by ${recomputedBy}: same results`];
  return [key, ...version];
}

/** What the report for machines says of a note's sign-offs. */
export function reportReview(review: NoteReview | undefined): Readonly<Record<string, Json>> {
  if (!review) return {};
  return {
    mark: review.mark,
    sign_offs: review.signOffs.map(({ role, state, reason, statement, fingerprint, recomputedBy }) => ({
      role,
      state,
      reason: reason ?? null,
      by: statement?.by ?? null,
      name: statement?.name ?? null,
      date: statement?.date ?? null,
      method: statement?.method ?? null,
      ssh_key: fingerprint ?? null,
      principal: statement?.principal ?? null,
      software: statement?.software ?? null,
      recomputed_by: recomputedBy ?? null,
    })),
    rests_on: (review.restsOn ?? []).map(({ note, state, through }) => ({
      path: note.path,
      number: note.number,
      revision: note.revision,
      state: state.words,
      valid: state.sound,
      through,
    })),
    issues: reportIssues(review.issues),
  };
}

/** What the register holds of a note or submittal, for machines. */
export function reportIssues(issues: readonly Issue[]): Json[] {
  return issues.map(({ revision, date, file, status, suitability, withdrawal }) => ({
    revision,
    date,
    file,
    status,
    suitability: suitability ?? null,
    withdrawn: withdrawal ? { date: withdrawal.date, reason: withdrawal.withdrawn } : null,
  }));
}
