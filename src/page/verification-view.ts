import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';
import { signOffPath } from '../review/sign-off/sign-off-file.ts';
import { NAMESPACE } from '../review/sign-off/ssh-signature.ts';

/**
 * How whoever receives an issued note can verify it with common tools, and what that proves; undefined for a note that was not
 * issued, whose pages say so.
 */
export function viewVerification({ source }: EvaluatedNote, { signOffs, issues }: NoteReview) {
  const { number, revision } = source.frontMatter;
  const issue = issues.find((one) => one.number === number && one.revision === revision);
  if (!issue) return undefined;
  return {
    file: issue.file,
    records: signOffPath(source.path),
    namespace: NAMESPACE,
    stamped: signOffs.some(({ timeStamped }) => timeStamped),
    signers: signOffs.flatMap(({ role, statement, fingerprint }) =>
      statement?.principal === undefined || fingerprint === undefined
        ? []
        : [{ role, name: statement.name, principal: statement.principal, fingerprint }],
    ),
  };
}
