import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { EvaluatedSubmittal } from '../../evaluation/submittal/evaluated-submittal.ts';
import { escapeMarkup } from '../../markup/escape-markup.ts';
import { Memory } from '../../memory/memory.ts';
import type { SubmittalReview } from '../../review/sign-off/submittal-review.ts';
import { findState } from '../../source/document-states.ts';
import type { FrontMatter } from '../../source/note-source.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { wordsFor } from '../../words/languages.ts';
import type { Words } from '../../words/words.ts';
import {
  isManyRows,
  viewInputs,
  viewNomenclature,
  viewOwnReferences,
  viewReferences,
} from '../annex-views.ts';
import { viewCheckRecord } from '../check-record-view.ts';
import { viewDistribution } from '../distribution-view.ts';
import { drawMark } from '../draft-mark.ts';
import { bodyOf, finishBody, insertStyles, STYLES_MARK } from '../finish-body.ts';
import { loadFontStyles } from '../fonts.ts';
import { groupDigits } from '../group-digits.ts';
import type { HeadingEntry } from '../heading-numbers.ts';
import { calculationId, END_ID, sourceId } from '../ids.ts';
import type { PageImage } from '../image-source.ts';
import { link } from '../link-phrases.ts';
import { listNotices } from '../notices-view.ts';
import { viewOtherNotes } from '../other-notes-view.ts';
import { readStyleSheet } from '../package-files.ts';
import { namedPageRules, pageRules } from '../page-rules.ts';
import { collectReferences } from '../reference-list.ts';
import { viewRegisters } from '../registers-view.ts';
import { renderBody } from '../render-body.ts';
import type { RenderedDocument } from '../render-note.ts';
import { viewRevisions } from '../revisions-view.ts';
import { runningWords } from '../running-words.ts';
import { sheetPages, viewSheets } from '../sheets-view.ts';
import type { Software } from '../software.ts';
import { summaryHtml } from '../summary-html.ts';
import { fillTemplate } from '../templates.ts';
import { textHtml } from '../text-html.ts';
import { viewVerdicts } from '../verdicts-view.ts';
import { viewAllActions } from './all-actions-view.ts';
import { mendLinks, scopedId, scopeIds } from './scope-ids.ts';
import { contextsOf, type PartContext } from './submittal-context.ts';
import { annexes, frontPart, titleHeading } from './submittal-parts.ts';
import { viewSubmittalVerification } from './submittal-verification-view.ts';
import { viewAllRegisters, viewAllVerdicts, viewNoteHead, viewSubmittalCover } from './submittal-views.ts';

export interface SubmittalOptions {
  /** Images of each note by the address that it writes. */
  readonly imagesOf: (note: EvaluatedNote) => ReadonlyMap<string, PageImage>;
  readonly software: Software;
  /** Digest of the source of the submittal, and of each note. */
  readonly digest: string;
  readonly digestOf: (note: EvaluatedNote) => string;
  readonly review: SubmittalReview;
  readonly memory?: Memory;
  /** The picture that project.yaml names for the letterhead. */
  readonly logo?: PageImage;
}

/** Makes one complete HTML document of a submittal. It holds everything it needs and loads nothing. */
export function renderSubmittal(
  submittal: EvaluatedSubmittal,
  project: ProjectSource,
  options: SubmittalOptions,
): RenderedDocument {
  const { source } = submittal;
  const { frontMatter } = source;
  const { review, memory = new Memory() } = options;
  const words = wordsFor(frontMatter.locale);
  const parts = contextsOf(submittal.notes, review.notes, project, words, memory);
  const isFullNomenclature = parts.some(
    ({ context }) => context.note.source.frontMatter.nomenclature === 'full',
  );
  const nomenclature = viewNomenclature(
    parts.flatMap(({ context }) => [...context.blocks, ...context.methods]),
    isFullNomenclature,
  );
  const behind = annexes({ nomenclature: nomenclature.length > 0 });
  const shared = new Set([...sharedIds(parts), ...behind.map(({ id }) => id)]);
  const rendered = parts.map((part) => renderPart(part, project, shared, options, memory));
  const introduction = introductionHtml(submittal, parts, words);
  const distribution = viewDistribution(frontMatter, project).table;
  const front = [
    ...(introduction === '' ? [] : [frontPart('introduction')]),
    frontPart('revisions'),
    ...(distribution ? [frontPart('distribution')] : []),
    frontPart('contents'),
    frontPart('verdicts'),
    frontPart('actions'),
  ];
  const headings = [...front, ...rendered.flatMap((part) => part.headings), ...behind];
  const fonts = loadFontStyles();
  const styles = [fonts.css, rulesOf(submittal, parts, project, review), readStyleSheet('submittal')].join(
    '\n',
  );
  const title = `${frontMatter.number} ${frontMatter.title}`;
  const html = fillTemplate('submittal', {
    language: frontMatter.locale,
    headTitle: escapeMarkup(title),
    styles: STYLES_MARK,
    mark: markOf(review),
    cover: viewSubmittalCover(submittal, parts, project, review, options.logo),
    front: Object.fromEntries(front.map(({ id, text }) => [id, { id, text }])),
    introduction,
    distribution,
    revisions: viewRevisions(frontMatter, project, { ...review, signOffs: [] }),
    screenNav: [
      titleHeading(frontMatter.title),
      ...front,
      ...rendered.flatMap((part) => part.contents),
      ...behind,
    ].filter(({ id, level }) => id !== 'contents' && level <= 3),
    contents: [...front, ...rendered.flatMap((part) => part.contents), ...behind].filter(
      ({ id, level }) => id !== 'contents' && level <= 3,
    ),
    verdicts: viewAllVerdicts(parts, words),
    ...viewAllActions(parts),
    parts: rendered.map(({ html }) => html),
    annex: Object.fromEntries(behind.map(({ id, number, text }) => [id, { id, number, text }])),
    registers: viewAllRegisters(parts),
    nomenclature,
    longNomenclature: isManyRows(nomenclature.length),
    isFullNomenclature,
    ...viewAllReferences(parts, project, words),
    documents: parts.map(({ label, headingId, evaluated, context: { note } }) => ({
      label,
      target: headingId,
      number: note.source.frontMatter.number,
      revision: note.source.frontMatter.revision,
      digest: groupDigits(options.digestOf(evaluated)),
    })),
    software: `${options.software.name} ${options.software.version}`,
    digest: groupDigits(options.digest),
    verification: viewSubmittalVerification(submittal, review) ?? null,
    number: frontMatter.number,
    revision: frontMatter.revision,
    endId: END_ID,
  });
  const headingOf = new Map(parts.map(({ scope, headingId }) => [scope, headingId]));
  // What a note refers to and the document has once, or not at all, is looked for where the note begins.
  const page = finishBody(mendLinks(html, (target) => headingOf.get(target.split('-')[0]!)));
  return {
    html: insertStyles(page, styles),
    body: bodyOf(page),
    outline: [titleHeading(frontMatter.title), ...headings].map(({ level, number, text, typeset }) => ({
      level,
      title: [number, text].filter((one) => one !== '').join(' '),
      typeset,
    })),
    title,
    fonts: fonts.names,
  };
}

/** Ids of the document to which notes lead: the entries of the one list of sources, and the headings of notes. */
function sharedIds(parts: readonly PartContext[]): string[] {
  return parts.flatMap(({ headingId, context }) => [
    headingId,
    ...context.references.sources.map(({ key }) => sourceId(key)),
  ]);
}

function markOf({ mark }: SubmittalReview): string {
  return mark === 'none' ? '' : drawMark(mark);
}

interface RenderedPart {
  readonly html: string;
  readonly headings: readonly HeadingEntry[];
  /** Those that the table of contents lists. */
  readonly contents: readonly HeadingEntry[];
}

/** A note with its head, verdicts, text and the record of its checker. */
function renderPart(
  part: PartContext,
  project: ProjectSource,
  shared: ReadonlySet<string>,
  options: SubmittalOptions,
  memory: Memory,
): RenderedPart {
  const { label, title, scope, headingId, pages, context, review } = part;
  const { note } = context;
  const body = renderBody(context, options.imagesOf(note), memory);
  const record = viewCheckRecord(note, review, context);
  const own = (id: string, text: string): HeadingEntry => ({
    id,
    level: 2,
    number: '',
    text,
    typeset: false,
  });
  const [revisions, verdicts] = [own('revisions', 'Revision history'), own('verdicts', 'Verdicts')];
  const check = own('annex-check', 'Checker’s record');
  const inputs = own('annex-inputs', 'Inputs and open points');
  const sheets = viewSheets(context, options.imagesOf(note), pages);
  const html = fillTemplate('submittal-note', {
    language: note.source.frontMatter.locale,
    headingId,
    label,
    title,
    pages,
    head: viewNoteHead(part, project),
    finding: summaryHtml(context),
    // How the document stands is told of the whole.
    notices: listNotices(note, { ...review, mark: 'none' }, context.otherNotes),
    headRevisions: revisions,
    revisions: viewRevisions(note.source.frontMatter, project, review),
    headVerdicts: verdicts,
    verdicts: viewVerdicts(context),
    body: body.html,
    headInputs: inputs,
    inputs: viewInputs(context),
    otherNotes: viewOtherNotes(context) ?? null,
    registers: viewRegisters(note, body.registers),
    headCheck: check,
    checkRecord: record ?? null,
    sheets,
    mark: markOf(options.review),
    endId: '',
    number: note.source.frontMatter.number,
    revision: note.source.frontMatter.revision,
  });
  const heading: HeadingEntry = {
    id: headingId,
    level: 1,
    number: `Note ${label}`,
    text: title,
    typeset: false,
  };
  const scoped = (one: HeadingEntry): HeadingEntry => ({ ...one, id: scopedId(scope, one.id) });
  const text = [
    ...body.headings,
    inputs,
    ...(record ? [check] : []),
    ...sheets.map((one) => one.heading),
  ].map(scoped);
  return {
    html: scopeIds(html, scope, (id) => shared.has(id)),
    headings: [heading, ...[revisions, verdicts].map(scoped), ...text],
    contents: [heading, ...text],
  };
}

type OwnReference = Omit<ReturnType<typeof viewOwnReferences>[number], 'id' | 'label'>;

interface ListedDocument {
  readonly row: OwnReference;
  readonly notes: { readonly target: string; readonly label: string }[];
}

/**
 * Standards and publications of all notes, each once with all clauses; and the documents of the project, each once with the notes that
 * list it.
 */
function viewAllReferences(parts: readonly PartContext[], project: ProjectSource, words: Words) {
  // Blocks of two notes may have one id.
  const numbered = parts.flatMap(({ scope, context }) =>
    [...context.blocks, ...context.methods].map((block) => ({
      block: { ...block, id: `${scope}/${block.id}` },
      scope,
      own: block.id,
    })),
  );
  const placeOf = new Map(
    numbered.map(({ block, scope, own }) => [calculationId(block.id), scopedId(scope, calculationId(own))]),
  );
  const numberOf = new Map(numbered.map(({ block }) => [block.id, block.number]));
  const fronts = parts.map(({ label, context }) => ({ label, front: context.note.source.frontMatter }));
  const open = fronts.flatMap(({ label, front }) =>
    front.sourcesOpen === undefined ? [] : [`note ${label}: ${front.sourcesOpen}`],
  );
  const list = collectReferences(
    numbered.map(({ block }) => block),
    [],
    project,
  );
  const references = viewReferences(
    list,
    [...new Set(fronts.flatMap(({ front }) => front.standards))],
    words,
    {
      people: project.people,
      numberOf: (id) => numberOf.get(id),
      sourcesOpen: open.length > 0 ? open.join('; ') : undefined,
    },
  );
  const sources = references.sources.map((source) => ({
    ...source,
    clauses: source.clauses.map((one) => ({
      ...one,
      calculations: one.calculations.map(({ id, number }) => ({ id: placeOf.get(id) ?? id, number })),
    })),
  }));
  return { references: { ...references, sources }, ownReferences: listDocuments(parts) };
}

function listDocuments(parts: readonly PartContext[]) {
  const documents = new Map<string, ListedDocument>();
  for (const { label, scope, context } of parts) {
    for (const { id, label: _, ...row } of viewOwnReferences(context)) {
      const key = JSON.stringify(row);
      const entry = documents.get(key) ?? { row, notes: [] as ListedDocument['notes'] };
      entry.notes.push({ target: scopedId(scope, id), label });
      documents.set(key, entry);
    }
  }
  return [...documents.values()].map(({ row, notes }) => ({ ...row, notes }));
}

/** The author's words in paragraphs; a value leads to its note. */
function introductionHtml(
  { source, texts }: EvaluatedSubmittal,
  parts: readonly PartContext[],
  words: Words,
): string {
  const html = (source.introduction ?? [])
    .map((part) => {
      if (typeof part === 'string') return textHtml(part);
      const text = texts.get(part.target);
      const note = parts.find(({ label }) => part.target.startsWith(`${label}/`));
      if (text === undefined || !note) throw new Error(`no text for '${part.target}' in the introduction`);
      return link(note.headingId, words.word(text));
    })
    .join('');
  return html
    .split(/\n[ \t]*\n/)
    .filter((paragraph) => paragraph.trim() !== '')
    .map((paragraph) => `<p>${paragraph.trim()}</p>`)
    .join('\n');
}

/** The running heads tell the document, and within a note the note. */
function rulesOf(
  { source: { frontMatter } }: EvaluatedSubmittal,
  parts: readonly PartContext[],
  project: ProjectSource,
  { mark }: SubmittalReview,
): string {
  const { title, suitability } = findState(project, frontMatter.status);
  const own = pageRules(frontMatter.pageSize, {
    number: frontMatter.number,
    revision: frontMatter.revision,
    title: frontMatter.title,
    project: project.title,
    classification: frontMatter.classification ?? '',
    status: mark === 'none' && suitability !== undefined ? `${title} (${suitability})` : title,
    mark: mark === 'none' ? '' : mark,
  });
  const within = parts.map(({ pages, title, context, review }) => {
    const words = runningWords(context.note, project, review.signOffs, mark);
    const heads = { ...words, project: `${wordDocument(frontMatter)}: ${title}` };
    return [namedPageRules(pages, heads), namedPageRules(sheetPages(pages), heads, true)].join('\n');
  });
  return [own, ...within].join('\n');
}

function wordDocument({ number, revision }: FrontMatter): string {
  return `${number} rev. ${revision}`;
}
