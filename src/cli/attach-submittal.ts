import type { Collector } from '../diagnostics/collector.ts';
import type { Attachment } from '../pdf/attach-files.ts';
import { ISSUES_FILE } from '../review/sign-off/issue-register.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import { concerns } from '../review/sign-off/superseded-notes.ts';
import { attachIssues, attachSources, reportUnfit } from './attach-sources.ts';
import type { SubmittalWork } from './make-submittal-page.ts';

/**
 * What the PDF of a submittal carries beside its page: its own text, what each of its notes carries, and the issues of all of them. A file
 * on which several notes rest is carried once.
 *
 * @param register all issues of the project; those of other submittals that hold one of the notes belong to it too
 */
export async function attachSubmittal(
  { loaded, submittal, reviewed, results }: SubmittalWork,
  register: readonly Issue[],
  collector: Collector,
): Promise<Attachment[]> {
  const { path, text } = submittal.source;
  const files = new Map<string, Attachment>();
  for (const { note } of submittal.notes) {
    const review = reviewed.notes.get(note)!;
    for (const file of await attachSources(loaded, note, results.get(note)!, review, collector)) {
      // A note of the submittal from which another takes values is a source of the document.
      if (file.relationship === 'Source' || !files.has(file.name)) files.set(file.name, file);
    }
  }
  files.delete(ISSUES_FILE);
  const numbers = new Set(submittal.notes.map(({ note }) => note.source.frontMatter.number));
  const restsOn = submittal.notes.flatMap(({ note }) => reviewed.notes.get(note)!.restsOn ?? []);
  for (const { note } of restsOn) numbers.add(note.number);
  numbers.add(submittal.source.frontMatter.number);
  const attachments: Attachment[] = [
    ...files.values(),
    {
      name: path,
      bytes: new TextEncoder().encode(text),
      mimeType: 'application/yaml',
      description: 'The submittal from which this document was made',
      relationship: 'Source',
    },
    ...attachIssues(register.filter((issue) => concerns(issue, numbers))),
  ];
  reportUnfit(attachments, path, collector);
  return attachments;
}
