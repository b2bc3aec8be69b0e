import type { Collector } from '../diagnostics/collector.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { EvaluatedSubmittal } from '../evaluation/submittal/evaluated-submittal.ts';
import { checkCharacters, mayHoldStrangeCharacters } from '../page/check-characters.ts';
import { renderSubmittal } from '../page/submittal/render-submittal.ts';
import { digestSubmittal } from '../review/digest-submittal.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import { reviewSubmittal, type SubmittalReview } from '../review/sign-off/submittal-review.ts';
import { attachSubmittal } from './attach-submittal.ts';
import { carryPage } from './carried-page.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import type { DocumentPage, PageOptions } from './make-pages.ts';
import type { ReviewedProject } from './review-notes.ts';
import { SOFTWARE } from './software.ts';
import { wordDocument } from './word-document.ts';

/** A submittal with all that its page shows. */
export interface SubmittalWork {
  readonly loaded: LoadedProject;
  readonly submittal: EvaluatedSubmittal;
  readonly reviewed: ReviewedProject;
  /** The text of the recorded results of each note. */
  readonly results: ReadonlyMap<EvaluatedNote, string>;
}

/** Makes the page of a submittal; what stands against printing it goes to the collector. */
export async function makeSubmittalPage(
  work: SubmittalWork,
  options: PageOptions,
  collector: Collector,
): Promise<DocumentPage> {
  const { loaded, submittal } = work;
  const { folder, project } = loaded;
  if (!project) throw new Error('a submittal was put together without its project');
  const { path, frontMatter } = submittal.source;
  const review = reviewOf(work, options.issue);
  const digest = digestOfSubmittal(work);
  const software = options.software ?? SOFTWARE;
  const rendered = renderSubmittal(submittal, project, {
    imagesOf: (note) => loaded.imagesOf(note),
    ...(loaded.logo ? { logo: loaded.logo } : {}),
    software,
    digest,
    digestOf: (note) => work.reviewed.notes.get(note)!.sourceSha256,
    review,
  });
  const texts = [path, ...submittal.notes.map(({ note }) => note.source.path), project.file];
  checkCharacters(
    rendered.body,
    texts.map((one) => ({ path: one, text: loaded.textOf(one) ?? '' })),
    collector,
  );
  const sources = await attachSubmittal(work, registerOf(work, options.issue), collector);
  const document = wordDocument({ frontMatter, project, rendered, identity: digest }, software, []);
  const carried = carryPage(path, { html: rendered.html, document }, sources);
  return { folder, path, project, rendered, document, attachments: [...sources, carried] };
}

/** Says what `makeSubmittalPage` would refuse, without making more of the page than is needed to know it. */
export async function judgeSubmittalPage(work: SubmittalWork, collector: Collector): Promise<void> {
  const { loaded, submittal, reviewed } = work;
  const texts = [
    ...[submittal.source.path, loaded.project!.file].map((path) => loaded.textOf(path)),
    ...submittal.notes.flatMap(({ note }) => [
      loaded.textOf(note.source.path),
      reviewed.notes.get(note)!.recordsText,
    ]),
  ];
  if (texts.some((text) => text !== undefined && mayHoldStrangeCharacters(text))) {
    await makeSubmittalPage(work, {}, collector);
  } else await attachSubmittal(work, reviewed.register, collector);
}

/**
 * How a submittal stands.
 *
 * @param issue one that is going to be entered in the register
 */
export function reviewOf(work: SubmittalWork, issue?: Issue): SubmittalReview {
  const { submittal, reviewed } = work;
  const notes = new Map(submittal.notes.map(({ note }) => [note, reviewed.notes.get(note)!]));
  return reviewSubmittal(submittal.source.frontMatter, notes, registerOf(work, issue));
}

function registerOf({ reviewed }: SubmittalWork, issue: Issue | undefined): readonly Issue[] {
  return issue ? [...reviewed.register, issue] : reviewed.register;
}

export function digestOfSubmittal({ loaded, submittal, reviewed }: SubmittalWork): string {
  const notes = submittal.notes.map(({ note }) => {
    const { number, revision } = note.source.frontMatter;
    return { number, revision, sourceSha256: reviewed.notes.get(note)!.sourceSha256 };
  });
  return digestSubmittal(submittal, loaded.project!, notes);
}
