import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { wordNote } from '../evaluation/word-note.ts';
import { escapeMarkup } from '../markup/escape-markup.ts';
import { Memory } from '../memory/memory.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { wordsFor } from '../words/languages.ts';
import type { Words } from '../words/words.ts';
import { isManyRows, viewInputs, viewNomenclature, viewReferences } from './annex-views.ts';
import {
  CHANGES_ID,
  type ChangesSince,
  changedIds,
  markRows,
  viewChanges,
  wordSince,
} from './changes-view.ts';
import { viewCheckRecord } from './check-record-view.ts';
import { showsEveryCheck } from './decisive-view.ts';
import { viewDistribution } from './distribution-view.ts';
import { annexParts, firstPageParts, frontParts } from './document-parts.ts';
import { drawMark, type Mark } from './draft-mark.ts';
import { bodyOf, finishBody, insertStyles, STYLES_MARK } from './finish-body.ts';
import { finishTables } from './finish-tables.ts';
import { viewFirstPage } from './first-page-view.ts';
import { loadFontStyles } from './fonts.ts';
import { groupDigits } from './group-digits.ts';
import { levelHeadings } from './heading-levels.ts';
import type { HeadingEntry } from './heading-numbers.ts';
import { END_ID } from './ids.ts';
import type { PageImage } from './image-source.ts';
import { signatureKindOf } from './ink-signatures-view.ts';
import { insertText, PART_MARK, type PagePart, TEXT_MARK } from './live-parts.ts';
import { contextOf } from './note-context.ts';
import { ALONE } from './numbering.ts';
import { viewOtherNotes } from './other-notes-view.ts';
import { readStyleSheet } from './package-files.ts';
import { pageRules, sheetRules } from './page-rules.ts';
import { viewProofs } from './proofs-view.ts';
import { viewRegisters } from './registers-view.ts';
import { type RenderedBody, renderBody } from './render-body.ts';
import { viewRevisions } from './revisions-view.ts';
import { runningWords } from './running-words.ts';
import { sheetPages, viewSheets } from './sheets-view.ts';
import type { Software } from './software.ts';
import { fillTemplate } from './templates.ts';
import { viewVerdicts } from './verdicts-view.ts';
import { viewVerification } from './verification-view.ts';

export interface RenderOptions {
  /** Images by the address that the note writes. */
  readonly images: ReadonlyMap<string, PageImage>;
  readonly software: Software;
  /** Digest of the source, as the recorded results have it. */
  readonly digest: string;
  /** Sign-offs, issues, and the mark across every page; without it the note is a draft. */
  readonly review?: NoteReview;
  /** Those of the note's language where absent. */
  readonly words?: Words;
  /** Holds the pages of calculations that were made before. */
  readonly memory?: Memory;
  /** The address that marks the place of a role's digital signature; without it the title block has no such places. */
  readonly fieldAddress?: (role: string) => string;
  /** The picture that project.yaml names for the letterhead. */
  readonly logo?: PageImage;
  /** Makes a review copy, with bars beside what changed. */
  readonly since?: ChangesSince;
}

/** A heading as a bookmark of the PDF should read; `typeset` where the page prints a formula in it. */
export interface OutlineEntry {
  readonly level: number;
  readonly title: string;
  readonly typeset: boolean;
}

export interface RenderedNote {
  readonly html: string;
  /** Every heading h1 to h6, in the order of the page. */
  readonly outline: readonly OutlineEntry[];
  readonly title: string;
  /** PostScript names of the fonts that a PDF of this page may hold. */
  readonly fonts: readonly string[];
}

/** A note or submittal, also from its body on: without the megabytes of fonts that stand before it. */
export interface RenderedDocument extends RenderedNote {
  readonly body: string;
}

/** Of a note with no more headings than this, some eight pages, nobody needs a table of contents. */
const CONTENTS_FROM = 8;

/** A table of contents does not list itself. */
function isInContents({ id, level }: HeadingEntry): boolean {
  return level <= 3 && id !== 'contents';
}

/** A review copy is no issue, however its note stands; what counts no more says so all the same. */
function markOfReviewCopy(mark: NoteReview['mark']): Mark {
  return mark === 'none' || mark === 'draft' ? 'review' : mark;
}

/** Makes one complete HTML document of an evaluated note. It holds everything it needs and loads nothing. */
export function renderNote(
  evaluated: EvaluatedNote,
  project: ProjectSource,
  options: RenderOptions,
): RenderedDocument {
  const { page, styles, body: _, ...rendered } = composeNote(evaluated, project, options, false);
  const finished = finishBody(page);
  const marked = options.since ? markRows(finished, changedIds(options.since)) : finished;
  return { ...rendered, html: insertStyles(marked, styles), body: bodyOf(marked) };
}

/**
 * The same document in parts, for who renews it while somebody reads: those of the author's text say where they begin in the note, and
 * elements in them at which line of the part they stand. A calculation that did not change is the same string as before.
 */
export function renderLiveNote(
  evaluated: EvaluatedNote,
  project: ProjectSource,
  { memory = new Memory(), ...options }: RenderOptions,
): readonly PagePart[] {
  const { page, styles, body } = composeNote(evaluated, project, { ...options, memory }, true);
  const text = (body.parts ?? []).map(({ html, ...part }) => ({
    ...part,
    html: memory.recall('levels', html, () => finishTables(levelHeadings(html))),
  }));
  const [head, ...rest] = insertText(finishBody(page), text);
  return [{ ...head, html: insertStyles(head!.html, styles) }, ...rest];
}

/** A note as its parts are put together, its style sheets apart; of a live one the text is left out of the page. */
function composeNote(
  evaluated: EvaluatedNote,
  project: ProjectSource,
  options: RenderOptions,
  live: boolean,
): Omit<RenderedNote, 'html'> & {
  readonly page: string;
  readonly styles: string;
  readonly body: RenderedBody;
} {
  const words = options.words ?? wordsFor(evaluated.source.frontMatter.locale);
  const memory = options.memory ?? new Memory();
  const note = wordNote(evaluated, words, memory);
  const review: NoteReview = options.review ?? { signOffs: [], issues: [], mark: 'draft' };
  const context = contextOf(note, project, words, ALONE, review.restsOn);
  const { frontMatter } = note.source;
  const first = firstPageParts(frontMatter.title);
  const { since } = options;
  const sinceName = since && wordSince(since, frontMatter.locale);
  const body = renderBody(context, options.images, memory, live, since);
  const nomenclature = viewNomenclature(
    [...context.blocks, ...context.methods],
    frontMatter.nomenclature === 'full',
  );
  const firstPage = viewFirstPage(context, review, since ? { ...options, before: since.head } : options);
  const distribution = viewDistribution(frontMatter, project).table;
  const front = frontParts({
    distribution: distribution !== null,
    contents: body.headings.filter(isInContents).length > CONTENTS_FROM,
    verdicts: !showsEveryCheck(firstPage.cases, context),
  });
  const checkRecord = viewCheckRecord(note, review, context);
  const annexes = annexParts({
    nomenclature: nomenclature.length > 0,
    // A form to be filled in by hand is of use where the check is signed by hand.
    checkRecord: checkRecord !== undefined || signatureKindOf(frontMatter, project) === 'ink',
    since: sinceName,
  });
  const changes = annexes.find(({ id }) => id === CHANGES_ID);
  const sheets = viewSheets(context, options.images);
  const headings = [
    ...first,
    ...front,
    ...body.headings,
    ...annexes,
    ...sheets.map(({ heading }) => heading),
  ];
  const { signOffs } = review;
  const mark = since ? markOfReviewCopy(review.mark) : review.mark;
  const fonts = loadFontStyles();
  const styles = `${fonts.css}\n${pageRules(frontMatter.pageSize, runningWords(note, project, signOffs, mark, since?.name), since !== undefined)}\n${sheetRules(sheetPages(), since !== undefined)}\n${readStyleSheet()}`;
  const title = `${frontMatter.number} ${frontMatter.title}`;
  const page = fillTemplate('note', {
    language: frontMatter.locale,
    part: live ? PART_MARK : '',
    headTitle: escapeMarkup(title),
    styles: STYLES_MARK,
    mark: mark === 'none' ? '' : drawMark(mark),
    firstPage: { ...firstPage, reviewCopy: sinceName ?? '' },
    front: {
      distribution: null,
      contents: null,
      verdicts: null,
      ...Object.fromEntries(front.map(({ id, text }) => [id, { id, text }])),
    },
    distribution,
    revisions: viewRevisions(frontMatter, project, review, changes),
    checkRecord,
    screenNav: headings.filter(isInContents),
    contents: headings.slice(first.length).filter(isInContents),
    verdicts: viewVerdicts(context),
    body: live ? TEXT_MARK : body.html,
    annex: Object.fromEntries(annexes.map(({ id, number, text }) => [id, { id, number, text }])),
    inputs: viewInputs(context),
    otherNotes: viewOtherNotes(context) ?? null,
    registers: viewRegisters(note, body.registers),
    nomenclature,
    longNomenclature: isManyRows(nomenclature.length),
    isFullNomenclature: frontMatter.nomenclature === 'full',
    references: viewReferences(context.references, frontMatter.standards, words, {
      people: project.people,
      numberOf: context.numberOf,
      sourcesOpen: frontMatter.sourcesOpen,
    }),
    software: `${options.software.name} ${options.software.version}`,
    digest: groupDigits(options.digest),
    proofs: viewProofs(signOffs),
    verification: viewVerification(note, review) ?? null,
    number: frontMatter.number,
    revision: frontMatter.revision,
    changes: since && changes ? viewChanges(context, since, changes) : null,
    sheets,
    endId: END_ID,
  });
  return {
    page,
    styles,
    body,
    outline: headings.map(({ level, number, text, typeset }) => ({
      level,
      title: [number, text].filter((part) => part !== '').join(' '),
      typeset,
    })),
    title,
    fonts: fonts.names,
  };
}
