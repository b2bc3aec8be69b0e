import { type Knowledge, sayClause } from '../engine/definition/basis.ts';
import { SOURCES, type Source } from '../engine/sources.ts';
import type { WordedBlock } from '../evaluation/evaluated-note.ts';
import { traitsOf } from '../formula/symbol-traits.ts';
import type { Assumption, Hold } from '../source/note-source.ts';
import type { Words } from '../words/words.ts';
import { codeHtml } from './code-html.ts';
import { viewGiven } from './given-view.ts';
import { assumptionId, calculationId, holdId, referenceId, sourceId } from './ids.ts';
import { linkPhrases } from './link-phrases.ts';
import { setTex, texHtml } from './math/set-math.ts';
import type { NoteContext, NumberedBlock } from './note-context.ts';
import type { ReferenceList, UsedSource } from './reference-list.ts';
import { textHtml } from './text-html.ts';
import { DASH, unitsOfGiven, unitsOfResult } from './word-values.ts';

interface InputEntry {
  readonly view: ReturnType<typeof viewGiven>;
  readonly calculations: { readonly id: string; readonly number: string }[];
}

/**
 * The givens that were written in the note, in the order in which they come: one that several calculations share stands
 * once. Those without a source are told apart, and so are the entries of the register. Defaults and values taken over
 * stand in their calculations alone.
 */
export function viewInputs(context: NoteContext) {
  const { note, blocks, project, references } = context;
  const entries = new Map<string, InputEntry>();
  for (const block of blocks) {
    for (const given of block.evaluated.givens) {
      if (given.origin !== 'given') continue;
      const view = viewGiven(context, given);
      const key = JSON.stringify(view);
      const entry = entries.get(key) ?? { view, calculations: [] };
      entry.calculations.push({ id: calculationId(block.id), number: block.number });
      entries.set(key, entry);
    }
  }
  const rows = [...entries.values()].map(({ view, ...rest }) => ({ ...view, ...rest }));
  return {
    rows: rows.filter(({ source }) => !source.missing),
    unsourced: rows.filter(({ source }) => source.missing),
    register: [...note.usedRegister].map(([path, { print, source, file }]) => ({
      item: itemTitle(path, project.itemTitles),
      path: codeHtml(path),
      file: file === undefined ? '' : codeHtml(file),
      print,
      source: linkPhrases(source ?? '', references.phrases),
      missing: source === undefined,
    })),
  };
}

function itemTitle(path: string, titles: ReadonlyMap<string, string>): string {
  return [...titles].find(([item]) => path === item || path.startsWith(`${item}.`))?.[1] ?? DASH;
}

interface SymbolEntry {
  readonly symbol: string;
  readonly name: string;
  readonly meaning: string;
  readonly units: Set<string>;
  readonly calculations: Set<string>;
}

/** Every symbol of the calculations, once for each meaning, in the order of the symbols as they are spoken. */
export function viewNomenclature(blocks: readonly NumberedBlock[]) {
  const entries = new Map<string, SymbolEntry>();
  for (const block of blocks) {
    for (const { symbol, name, meaning, units } of listSymbols(block)) {
      const key = JSON.stringify([symbol, name, meaning]);
      const entry = entries.get(key) ?? { symbol, name, meaning, units: new Set(), calculations: new Set() };
      for (const unit of units) entry.units.add(unit);
      entry.calculations.add(block.number);
      entries.set(key, entry);
    }
  }
  return [...entries.values()]
    .map((entry) => ({ entry, order: `${sortingText(entry.symbol)} ${entry.name}` }))
    .sort((a, b) => (a.order < b.order ? -1 : a.order > b.order ? 1 : 0))
    .map(({ entry }) => ({
      symbol: texHtml(entry.symbol),
      name: codeHtml(entry.name),
      meaning: entry.meaning,
      unit: [...entry.units].join(', ') || DASH,
      calculations: [...entry.calculations].join(', '),
    }));
}

function listSymbols({ evaluated }: WordedBlock) {
  return [
    ...evaluated.givens.map((given) => ({ ...given, units: unitsOfGiven(given) })),
    ...evaluated.givens.flatMap(({ name, table }) =>
      // A column of words has no symbol that formulas could use.
      (table?.columns ?? [])
        .filter(({ symbol }) => symbol !== '' && !traitsOf(symbol).isWord)
        .map((column) => ({
          ...column,
          name: `${name}.${column.name}`,
          units: [column.unit || '1'],
        })),
    ),
    ...evaluated.steps.map((step) => ({ ...step, units: unitsOfResult(step.result) })),
  ];
}

/** Symbols are looked up by their letters, capital or small; what has none stands at the end. */
function sortingText(symbol: string): string {
  return symbol === '' ? '\uffff' : setTex(symbol).speech.toLowerCase();
}

/** The sources of the calculations, and the standards to which the author says that the work was done. */
export function viewReferences(references: ReferenceList, standards: readonly string[], words: Words) {
  return {
    sources: references.sources.map(({ key, source, clauses }) => ({
      id: sourceId(key),
      designation: source.designation,
      title: source.title,
      edition: source.edition,
      read: listClauses(words, clauses, (known) => known.by !== 'memory'),
      remembered: listClauses(words, clauses, (known) => known.by === 'memory'),
      superseded: source.supersededBy ?? '',
    })),
    fromMemory: references.sources.some(({ clauses }) => clauses.some(({ known }) => known.by === 'memory')),
    standards: standards.map((standard) => ({
      html: linkPhrases(standard, references.phrases),
      superseded: successorOf(standard),
    })),
  };
}

/** The clauses that are known in that way; what was read in another source says where. */
function listClauses(
  words: Words,
  clauses: UsedSource['clauses'],
  isMeant: (known: Knowledge) => boolean,
): string {
  return clauses
    .filter(({ known }) => isMeant(known))
    .map(({ text, known }) => (known.by === 'memory' ? text : words.word(sayClause(text, known))))
    .join('; ');
}

/** The edition that has replaced a standard, where this program knows of one. */
function successorOf(standard: string): string {
  const known: readonly Source[] = Object.values(SOURCES);
  return known.find(({ designation }) => designation === standard.trim())?.supersededBy ?? '';
}

export function viewAssumptions(assumptions: readonly Assumption[]) {
  return assumptions.map((one) => ({
    id: assumptionId(one.id),
    label: one.id,
    text: one.text,
    basis: one.basis ?? DASH,
    state: one.state,
    noticed: one.state === 'to be confirmed',
    follow: followUpHtml(one),
  }));
}

export function viewHolds(holds: readonly Hold[]) {
  return holds.map((one) => ({
    id: holdId(one.id),
    label: one.id,
    missing: one.missing,
    effect: one.effect,
    state: one.state,
    noticed: one.state === 'open',
    follow: followUpHtml(one),
  }));
}

/** Who sees to it, until when, and what has closed it; as HTML, so that a date is not broken. */
function followUpHtml({ owner, due, closedBy }: Assumption | Hold): string {
  const parts = [
    owner === undefined ? '' : textHtml(owner),
    due === undefined ? '' : `due <span class="date">${textHtml(due)}</span>`,
    closedBy === undefined ? '' : `closed by ${keepDates(closedBy)}`,
  ];
  return parts.filter((part) => part !== '').join('; ') || DASH;
}

/** A text as HTML in which no line ends within a date. */
function keepDates(text: string): string {
  return text
    .split(/\b(\d{4}-\d{2}-\d{2})\b/)
    .map((part, i) => (i % 2 === 0 ? textHtml(part) : `<span class="date">${textHtml(part)}</span>`))
    .join('');
}

export function viewOwnReferences(context: NoteContext) {
  return context.references.references.map((one) => ({
    id: referenceId(one.id),
    label: one.id,
    title: one.title,
    designation: one.designation ?? DASH,
    edition: one.edition ?? 'no edition named',
    issuer: one.issuer ?? DASH,
  }));
}
