import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { escapeMarkup } from '../markup/escape-markup.ts';
import type { Comparison, TextChange, TurnedVerdict } from '../review/comparison.ts';
import {
  type OutlineOptions,
  type OutlinePart,
  type OutlineRow,
  outlineNotes,
  outlineProject,
  outlineSubmittals,
} from '../review/outline-comparison.ts';
import { wordSummary } from '../review/summarise-comparison.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { wordDays } from '../words/word-day.ts';
import { loadFontStyles } from './fonts.ts';
import { groupDigits } from './group-digits.ts';
import { stateHeadingLevels } from './heading-levels.ts';
import { readStyleSheet } from './package-files.ts';
import { pageRules } from './page-rules.ts';
import type { OutlineEntry, RenderedNote } from './render-note.ts';
import type { Software } from './software.ts';
import { spellUnprintable } from './spell-unprintable.ts';
import { fillTemplate } from './templates.ts';
import { DASH, isToBeNoticed } from './word-values.ts';

/** One side of a comparison, as the document names it. */
export interface ComparedState {
  readonly name: string;
  /** 'commit 3f2c...', 'PDF with SHA-256 ...', 'folder' */
  readonly identity: string;
  readonly project: ProjectSource;
  readonly notes: readonly EvaluatedNote[];
  /** Digest of the source of a note, as the recorded results have it. */
  digestOf(note: EvaluatedNote): string;
}

/** Makes one complete HTML document of a comparison, for the file. It holds everything it needs and loads nothing. */
export function renderComparison(
  comparison: Comparison,
  before: ComparedState,
  after: ComparedState,
  options: OutlineOptions & { readonly software: Software; readonly notices: readonly string[] },
): RenderedNote {
  const styles = loadFontStyles();
  const { project } = after;
  const [only, second] = after.notes;
  const front = only!.source.frontMatter;
  const number = second ? 'Comparison' : front.number;
  const title = second ? project.title : `${front.number} ${front.title}`;
  const words = {
    number,
    revision: '',
    title: second ? '' : front.title,
    project: project.title,
    classification: front.classification ?? '',
    status: 'Comparison of two states',
    mark: '',
  };
  const headings = new Headings();
  const view = spellAll({
    title: headings.take(1, title),
    subtitle: second ? `${project.client}, ${project.site}` : project.title,
    company: project.company?.name ?? '',
    states: [before, after].map(({ name, identity }) => ({ name, identity: groupLongDigits(identity) })),
    notes: listNotes(before, after),
    summary: comparison.notes.length + comparison.project.length === 0 ? '' : wordSummary(comparison.summary),
    notices: options.notices,
    headStates: headings.take(1, 'States compared'),
    headVerdicts: headings.take(1, 'Verdicts that changed'),
    severalNotes: second !== undefined,
    turned: comparison.turned.map(viewTurned),
    project: viewTables(headings, outlineProject(comparison.project)),
    changed: [...outlineSubmittals(comparison.submittals), ...outlineNotes(comparison.notes, options)].map(
      ({ path, what, parts }) => ({
        heading: headings.take(1, `${path}${what}`),
        isAlone: parts.length === 0,
        parts: parts.map((part) => viewPart(headings, part)),
      }),
    ),
    software: `${options.software.name} ${options.software.version}`,
  });
  const html = fillTemplate('comparison', {
    ...view,
    headTitle: escapeMarkup(view.title),
    language: front.locale,
    styles: `${styles.css}\n${pageRules(front.pageSize, words)}\n${readStyleSheet('comparison')}`,
  });
  return {
    html: stateHeadingLevels(html),
    outline: headings.list,
    title: `Comparison: ${title}`,
    fonts: styles.names,
  };
}

/** Collects the headings in the order in which they are printed. */
class Headings {
  readonly list: OutlineEntry[] = [];

  take(level: number, text: string): string {
    const title = spellUnprintable(text).replace(/\s+/g, ' ').trim();
    this.list.push({ level, title, typeset: false });
    return title;
  }
}

function viewTables(headings: Headings, rows: readonly OutlineRow[]) {
  if (rows.length === 0) return { heading: '', rows: [] };
  return { heading: headings.take(1, 'Project and register'), rows: rows.map(viewRow) };
}

function viewPart(headings: Headings, { heading, tables, text }: OutlinePart) {
  return {
    heading: headings.take(2, wordTitle(heading)),
    tables: tables.map(({ title, rows }) => ({ title: wordTitle(title), rows: rows.map(viewRow) })),
    text: text.map(viewText),
  };
}

/** Our own words begin with a capital; ids, which stand beside others, stay as they are. */
function wordTitle(title: string): string {
  return OWN_TITLES.has(title) ? `${title.charAt(0).toUpperCase()}${title.slice(1)}` : title;
}

const OWN_TITLES = new Set([
  'submittal',
  'verdicts and checks',
  'givens',
  'givens that follow',
  'blocks set side by side',
  'results',
  'limiting values',
  'cautions',
  'wording',
  'assumptions',
  'open points',
  'references',
  'values taken from other notes',
  'images',
  'text',
]);

/** A dotted name in the pieces between which a line may end. */
function splitName(name: string): readonly string[] {
  return name.split(/(?<=[._])/);
}

function viewRow({ name, before, after, percent }: OutlineRow) {
  return {
    name: splitName(name),
    before: before ?? DASH,
    after: after ?? DASH,
    change: wordChange(before, after, percent),
  };
}

function wordChange(before: string | undefined, after: string | undefined, percent: string): string {
  if (before === undefined) return 'added';
  if (after === undefined) return 'removed';
  return percent.replace(/^-/, '\u2212');
}

function viewText({ section, state, text }: TextChange, index: number, all: readonly TextChange[]) {
  return { section: section === all[index - 1]?.section ? '' : section, state, text };
}

function viewTurned({ note, block, check, criterion, before, after, afterCode }: TurnedVerdict) {
  return {
    note,
    block,
    check,
    criterion,
    before: before ?? DASH,
    after: after ?? DASH,
    noticed: afterCode !== undefined && isToBeNoticed(afterCode),
  };
}

/** The notes of both states by path. */
function listNotes(before: ComparedState, after: ComparedState) {
  const paths = new Set([...after.notes, ...before.notes].map(({ source }) => source.path));
  return [...paths].map((path) => ({
    path: splitName(path),
    before: viewNote(before, path),
    after: viewNote(after, path),
  }));
}

function viewNote(state: ComparedState, path: string) {
  const note = state.notes.find(({ source }) => source.path === path);
  if (!note) return { text: DASH, digest: '' };
  const { number, revision, date, locale } = note.source.frontMatter;
  return {
    text: `${number}, revision ${revision}, ${wordDays(date, locale)}`,
    digest: groupDigits(state.digestOf(note)),
  };
}

function groupLongDigits(text: string): string {
  return text.replace(/[0-9a-f]{64}/g, groupDigits);
}

type Texts = string | boolean | readonly Texts[] | { readonly [key: string]: Texts };

/** The same view with every text spelt out. */
function spellAll<T extends Texts>(view: T): T {
  const spell = (texts: Texts): Texts => {
    if (typeof texts === 'string') return spellUnprintable(texts);
    if (typeof texts === 'boolean') return texts;
    if (Array.isArray(texts)) return texts.map(spell);
    return Object.fromEntries(Object.entries(texts).map(([key, value]) => [key, spell(value)]));
  };
  return spell(view) as T;
}
