import { Collector } from '../diagnostics/collector.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { ChangesSince } from '../page/changes-view.ts';
import { checkCharacters, mayHoldStrangeCharacters } from '../page/check-characters.ts';
import { type RenderedDocument, type RenderOptions, renderNote } from '../page/render-note.ts';
import type { Software } from '../page/software.ts';
import type { Attachment } from '../pdf/attach-files.ts';
import { fieldAddress, type MarkedField } from '../pdf/field-address.ts';
import { reviewNote } from '../review/sign-off/note-review.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import { ROLES } from '../review/sign-off/roles.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { attachSources } from './attach-sources.ts';
import { carryPage, type DocumentWords } from './carried-page.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import { makeSubmittalPage } from './make-submittal-page.ts';
import { type ReviewedNote, reviewProject } from './review-notes.ts';
import { SOFTWARE } from './software.ts';
import type { Terminal } from './terminal.ts';
import { wordDocument } from './word-document.ts';

/** A document as it is going to be printed. */
export interface DocumentPage {
  readonly folder: string;
  /** Of the note or submittal, in the project. */
  readonly path: string;
  readonly project: ProjectSource;
  readonly rendered: RenderedDocument;
  readonly document: DocumentWords;
  /** What the PDF carries, this page among it. */
  readonly attachments: readonly Attachment[];
}

export interface NotePage extends DocumentPage {
  readonly note: EvaluatedNote;
  readonly review: ReviewedNote;
  /** The text of the recorded results. */
  readonly results: string;
}

/** The documents that were asked for. */
export interface Pages {
  readonly notes: readonly NotePage[];
  readonly submittals: readonly DocumentPage[];
}

const SIGNATURE_FIELDS: readonly MarkedField[] = ROLES.map((role) => ({
  name: role,
  label: `Signature, ${role}`,
}));

export interface PageOptions {
  /** What the pages name as the program that made them: this one where absent. */
  readonly software?: Software;
  /** An issue that is going to be entered in the register when the page is printed. */
  readonly issue?: Issue;
  /** Whether the title block has empty fields for digital signatures. */
  readonly signatureFields?: boolean;
  /** Makes review copies of notes: what changed in each. */
  readonly since?: ReadonlyMap<EvaluatedNote, ChangesSince>;
}

/**
 * Makes the pages of the notes and submittals that were asked for: sign-offs judged, HTML made, attachments gathered. Undefined where something stands
 * against printing them; the terminal says what.
 *
 * @param results the text of each note's recorded results
 */
export async function makePages(
  projects: readonly LoadedProject[],
  results: ReadonlyMap<EvaluatedNote, string>,
  terminal: Terminal,
  options: PageOptions = {},
): Promise<Pages | undefined> {
  const notes: NotePage[] = [];
  const submittals: DocumentPage[] = [];
  let sound = true;
  for (const loaded of projects) {
    const collector = new Collector(loaded);
    const reviewed = await reviewProject(loaded, collector);
    for (const note of loaded.asked) {
      const review = reviewed.notes.get(note)!;
      notes.push(await makePage(loaded, note, review, results.get(note)!, options, collector));
    }
    for (const submittal of loaded.submittals) {
      submittals.push(await makeSubmittalPage({ loaded, submittal, reviewed, results }, options, collector));
    }
    terminal.diagnostics(collector.list(), collector);
    sound &&= !collector.hasErrors;
  }
  return sound ? { notes, submittals } : undefined;
}

/**
 * Says of evaluated notes what `makePages` would refuse, without making more of the pages than is needed to know it: each is
 * made only where a text holds a character that the fonts may lack.
 *
 * @param results the text of each note's recorded results
 */
export async function judgePages(
  loaded: LoadedProject,
  reviews: ReadonlyMap<EvaluatedNote, ReviewedNote>,
  results: ReadonlyMap<EvaluatedNote, string>,
  collector: Collector,
): Promise<void> {
  for (const [note, review] of reviews) {
    const texts = [
      ...pathsShown(note, loaded.project!).map((path) => loaded.textOf(path)),
      review.recordsText,
    ];
    if (texts.some((text) => text !== undefined && mayHoldStrangeCharacters(text))) {
      await makePage(loaded, note, review, results.get(note)!, {}, collector);
    } else await attachSources(loaded, note, results.get(note)!, review, collector);
  }
}

/** The files of which words stand on the page of a note. */
function pathsShown({ source, schedules }: EvaluatedNote, project: ProjectSource): readonly string[] {
  return [source.path, project.file, ...schedules.map(({ file }) => file.path)];
}

/** What the page of a note shows beside the note. */
export function showsOf(loaded: LoadedProject, note: EvaluatedNote, review: ReviewedNote): RenderOptions {
  return {
    images: loaded.imagesOf(note),
    ...(loaded.logo ? { logo: loaded.logo } : {}),
    software: SOFTWARE,
    digest: review.sourceSha256,
    review,
  };
}

async function makePage(
  loaded: LoadedProject,
  note: EvaluatedNote,
  review: ReviewedNote,
  results: string,
  options: PageOptions,
  collector: Collector,
): Promise<NotePage> {
  const { project, folder } = loaded;
  if (!project) throw new Error('a note was evaluated without its project');
  const issues = options.issue ? [...review.issues, options.issue] : review.issues;
  const { restsOn = [] } = review;
  const since = options.since?.get(note);
  const shown = { ...reviewNote(note.source.frontMatter, review.signOffs, issues), restsOn };
  const rendered = renderNote(note, project, {
    ...showsOf(loaded, note, review),
    software: options.software ?? SOFTWARE,
    review: shown,
    ...(options.signatureFields ? { fieldAddress } : {}),
    ...(since ? { since } : {}),
  });
  const texts = pathsShown(note, project).map((path) => ({ path, text: loaded.textOf(path) ?? '' }));
  // Characters that no font of the page has are faults of the source: found before anything is printed.
  checkCharacters(rendered.body, texts, collector);
  const sources = await attachSources(loaded, note, results, { issues, restsOn }, collector);
  const document = wordDocument(
    { frontMatter: note.source.frontMatter, project, rendered, identity: review.sourceSha256 },
    options.software ?? SOFTWARE,
    options.signatureFields ? SIGNATURE_FIELDS : [],
  );
  const carried = carryPage(
    note.source.path,
    { html: rendered.html, document, ...(since ? { since: since.name } : {}) },
    sources,
  );
  const attachments = [...sources, carried];
  const { path } = note.source;
  return { folder, path, project, note, review, rendered, results, document, attachments };
}
