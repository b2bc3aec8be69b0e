import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import { wordProof } from '../review/sign-off/word-sign-off.ts';

/** By what each sign-off is known to hold, or why it does not. */
export function viewProofs(signOffs: readonly SignOff[]) {
  return signOffs.map((signOff) => ({
    role: signOff.role,
    name: signOff.statement?.name ?? '',
    date: signOff.statement?.date ?? '',
    state: signOff.state,
    proof: [signOff.reason, ...wordProof(signOff)].filter((part) => part !== undefined).join('; '),
  }));
}
