import type { Image } from 'mdast';
import type { EvaluatedBlock, EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { ProjectSource } from '../source/project-source.ts';
import {
  viewAssumptions,
  viewHolds,
  viewInputs,
  viewNomenclature,
  viewOwnReferences,
  viewReferences,
} from './annex-views.ts';
import { type NoteContext, viewCalculation } from './calculation-view.ts';
import { groupDigits, type SignOff, type Software, viewCover } from './cover-view.ts';
import { drawMark, type Mark } from './draft-mark.ts';
import { drawFigure } from './draw-figure.ts';
import { loadFontStyles } from './fonts.ts';
import type { HeadingEntry } from './heading-numbers.ts';
import { assumptionId, calculationId, END_ID, holdId, Ids, referenceId } from './ids.ts';
import { readStyleSheet } from './package-files.ts';
import { pageRules } from './page-rules.ts';
import { collectReferences } from './reference-list.ts';
import { type BlockNode, type ProseParts, renderProse, type Section } from './render-prose.ts';
import { fillTemplate } from './templates.ts';
import { viewVerdicts } from './verdicts-view.ts';
import { wordStatus } from './word-values.ts';

export interface PageImage {
  readonly mime: string;
  readonly bytes: Uint8Array;
}

export interface RenderOptions {
  /** Images by the address that the note writes. */
  readonly images: ReadonlyMap<string, PageImage>;
  readonly software: Software;
  /** Digest of the source, as the recorded results have it. */
  readonly digest: string;
  readonly signOffs?: readonly SignOff[];
  /** What is written across every page; 'none' only where valid signatures exist. */
  readonly mark?: Mark | 'none';
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

/** Makes one complete HTML document of an evaluated note. It holds everything it needs and loads nothing. */
export function renderNote(
  note: EvaluatedNote,
  project: ProjectSource,
  options: RenderOptions,
): RenderedNote {
  const context: NoteContext = { note, project, references: collectReferences(note) };
  const { frontMatter } = note.source;
  const front = frontParts();
  const registers = { assumptions: '', holds: '', references: '' };
  const prose = renderProse(note.source.tree, proseParts(context, options, registers));
  const annexes = annexParts();
  const headings = [...front, ...prose.headings, ...annexes];
  const mark = options.mark ?? 'draft';
  const styles = loadFontStyles();
  const title = `${frontMatter.number} ${frontMatter.title}`;
  const html = fillTemplate('note', {
    language: frontMatter.locale,
    title,
    styles: `${styles.css}\n${pageRules(frontMatter.pageSize, runningWords(note, project, mark))}\n${readStyleSheet()}`,
    mark: mark === 'none' ? '' : drawMark(mark),
    cover: viewCover(note, project, options.signOffs ?? [], options.software, options.digest),
    front: Object.fromEntries(front.map(({ id, text }) => [id, { id, text }])),
    revisions: note.source.frontMatter.revisions.map((row) => viewRevision(row, project)),
    contents: headings.filter(({ level }) => level <= 3),
    verdicts: viewVerdicts(note),
    body: prose.html,
    annex: Object.fromEntries(annexes.map(({ id, number, text }) => [id, { id, number, text }])),
    inputs: viewInputs(context),
    registers: viewRegisters(note, registers),
    nomenclature: viewNomenclature(context),
    references: viewReferences(context),
    software: `${options.software.name} ${options.software.version}`,
    digest: groupDigits(options.digest),
    number: frontMatter.number,
    revision: frontMatter.revision,
    endId: END_ID,
  });
  return {
    html,
    outline: headings.map(({ level, number, text, typeset }) => ({
      level,
      title: [number, text].filter((part) => part !== '').join(' '),
      typeset,
    })),
    title,
    fonts: styles.names,
  };
}

function frontParts(): HeadingEntry[] {
  return [
    ['revisions', 'Revision history'],
    ['contents', 'Contents'],
    ['verdicts', 'Summary of verdicts'],
  ].map(([id, text]) => ({ id: id!, level: 1, number: '', text: text!, typeset: false }));
}

const ANNEXES = [
  ['annex-inputs', 'Inputs'],
  ['annex-registers', 'Assumptions and open points'],
  ['annex-nomenclature', 'Nomenclature'],
  ['annex-references', 'References'],
  ['annex-check', 'Checker’s record'],
  ['annex-limits', 'Cautions and limits of use'],
  ['annex-software', 'Software and source'],
] as const;

function annexParts(): HeadingEntry[] {
  return ANNEXES.map(([id, text], i) => ({
    id,
    level: 1,
    number: `Annex ${String.fromCharCode('A'.charCodeAt(0) + i)}`,
    text,
    typeset: false,
  }));
}

/** Where the author has put the tables of assumptions, open points and references: number of the section, or empty. */
type RegisterPlaces = Record<'assumptions' | 'holds' | 'references', string>;

function proseParts(context: NoteContext, options: RenderOptions, registers: RegisterPlaces): ProseParts {
  const { note, references } = context;
  const ids = new Ids();
  let figures = 0;
  const nextFigure = () => {
    figures += 1;
    return figures;
  };
  return {
    ids,
    nextFigure,
    title: note.source.frontMatter.title,
    proseTexts: note.proseTexts,
    phrases: references.phrases,
    targets: listTargets(note),
    image: (image) => ({ source: imageSource(image, options.images) }),
    block: (node, section) => {
      if (node.kind === 'calc' || node.kind === 'formula') {
        return renderCalculation(context, node, section, nextFigure);
      }
      registers[node.kind] ||= section.number;
      return { html: renderRegister(context, node) };
    },
  };
}

/** What an author may write behind # besides the words of headings. */
export function listTargets({ blocks, source }: EvaluatedNote): Map<string, string> {
  const targets: [string, string][] = [
    ...ANNEXES.map(([id]) => [id, id] as [string, string]),
    ...['revisions', 'contents', 'verdicts'].map((id) => [id, id] as [string, string]),
    ...source.references.flatMap(({ id }) => both(id, referenceId(id))),
    ...source.assumptions.flatMap(({ id }) => both(id, assumptionId(id))),
    ...source.holds.flatMap(({ id }) => both(id, holdId(id))),
    ...blocks.flatMap(({ id }) => both(id, calculationId(id))),
  ];
  return new Map(targets);
}

function both(written: string, id: string): [string, string][] {
  return [
    [written, id],
    [id, id],
  ];
}

function renderCalculation(
  context: NoteContext,
  node: BlockNode,
  section: Section,
  nextFigure: () => number,
) {
  const index = context.note.blocks.findIndex(({ id }) => id === node.block);
  const block: EvaluatedBlock | undefined = context.note.blocks[index];
  if (!block) throw new Error(`the block '${node.block}' of the text was not evaluated`);
  const level = Math.min(section.level + 1, 6);
  const { figure } = block.evaluated;
  const number = `Calculation ${index + 1}`;
  const html = fillTemplate('calculation', {
    ...viewCalculation(context, block),
    level,
    number,
    title: block.title,
    figure: figure ? drawFigure(figure.svg, figure.caption, nextFigure()) : '',
  });
  return {
    html,
    heading: { id: calculationId(block.id), level, number, text: block.title, typeset: false },
  };
}

/** A register stands once: where the author has put its block. Of several blocks each shows its own entries. */
function renderRegister(context: NoteContext, { kind, lines }: BlockNode): string {
  const { source } = context.note;
  const within = ({ place }: { readonly place: { readonly line: number } }) =>
    !lines || (place.line >= lines.first && place.line <= lines.last);
  if (kind === 'assumptions') {
    return fillTemplate('assumptions', { rows: viewAssumptions(source.assumptions.filter(within)) });
  }
  if (kind === 'holds') return fillTemplate('holds', { rows: viewHolds(source.holds.filter(within)) });
  const own = source.references.filter(within).map(({ id }) => referenceId(id));
  const rows = viewOwnReferences(context).filter(({ id }) => own.includes(id));
  return fillTemplate('own-references', { rows });
}

function viewRegisters({ source }: EvaluatedNote, places: RegisterPlaces) {
  return {
    assumptions: viewAssumptions(source.assumptions),
    holds: viewHolds(source.holds),
    ownReferences: source.references.length,
    places,
  };
}

function viewRevision(
  row: EvaluatedNote['source']['frontMatter']['revisions'][number],
  { people }: ProjectSource,
) {
  const person = (key: string | undefined) => people.find((one) => one.key === key)?.name ?? key ?? '–';
  return {
    revision: row.revision,
    date: row.date,
    reason: row.reason,
    sections: row.sections ?? '–',
    prepared: person(row.prepared),
    checked: person(row.checked),
    approved: person(row.approved),
  };
}

function runningWords(
  { source: { frontMatter } }: EvaluatedNote,
  project: ProjectSource,
  mark: Mark | 'none',
) {
  const initials = (['prepared', 'checked', 'approved'] as const).flatMap((role) => {
    const person = project.people.find(({ key }) => key === frontMatter[role]);
    return person?.initials ? [`${role} ${person.initials}`] : [];
  });
  return {
    number: frontMatter.number,
    revision: frontMatter.revision,
    project: project.title,
    status: [wordStatus(frontMatter.status), ...initials].join(', '),
    mark: mark === 'none' ? '' : mark,
  };
}

function imageSource(image: Image, images: ReadonlyMap<string, PageImage>): string {
  const file = images.get(image.url);
  if (!file) throw new Error(`the image '${image.url}' was not read`);
  return `data:${file.mime};base64,${Buffer.from(file.bytes).toString('base64')}`;
}
