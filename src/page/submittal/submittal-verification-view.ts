import type { EvaluatedSubmittal } from '../../evaluation/submittal/evaluated-submittal.ts';
import { signOffPath } from '../../review/sign-off/sign-off-file.ts';
import { NAMESPACE } from '../../review/sign-off/ssh-signature.ts';
import type { SubmittalReview } from '../../review/sign-off/submittal-review.ts';

/** How whoever receives an issued submittal can verify it with common tools; undefined for one that was not issued, whose pages say so. */
export function viewSubmittalVerification(
  { source, notes }: EvaluatedSubmittal,
  { issues, notes: reviews }: SubmittalReview,
) {
  const issue = issues.find(({ revision }) => revision === source.frontMatter.revision);
  if (!issue) return undefined;
  const signed = notes.map(({ note, label }) => {
    const { signOffs } = reviews.get(note)!;
    return {
      label,
      records: signOffPath(note.source.path),
      signers: signOffs.flatMap(({ role, statement, fingerprint }) =>
        statement?.principal === undefined || fingerprint === undefined
          ? []
          : [{ role, name: statement.name, principal: statement.principal, fingerprint }],
      ),
    };
  });
  const first = signed.find(({ signers }) => signers.length > 0) ?? signed[0]!;
  return { file: issue.file, namespace: NAMESPACE, signed, example: first.records };
}
