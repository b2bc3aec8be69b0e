import { sayClause } from '../engine/definition/basis.ts';
import type { WordedGiven } from '../engine/definition/evaluated.ts';
import { SOURCES, type Source } from '../engine/sources.ts';
import type { WordedBlock } from '../evaluation/evaluated-note.ts';
import { traitsOf } from '../formula/symbol-traits.ts';
import type { Assumption, Hold } from '../source/note-source.ts';
import type { Person } from '../source/project-source.ts';
import type { Locale } from '../words/locales.ts';
import { wordDays } from '../words/word-day.ts';
import type { Words } from '../words/words.ts';
import { codeHtml } from './code-html.ts';
import { bare, itemName, itemPath, viewGiven } from './given-view.ts';
import { assumptionId, calculationId, holdId, referenceId, sourceId } from './ids.ts';
import { linkPhrases } from './link-phrases.ts';
import { setTex, texHtml } from './math/set-math.ts';
import type { NoteContext, NumberedBlock } from './note-context.ts';
import type { ReferenceList } from './reference-list.ts';
import { textHtml } from './text-html.ts';
import { DASH, unitsOfGiven, unitsOfResult } from './word-values.ts';

/** So many values without a source are told in a sentence. */
const FEW_UNSOURCED = 3;

interface InputEntry {
  readonly view: ReturnType<typeof viewGiven>;
  readonly calculations: { readonly id: string; readonly number: string }[];
}

/**
 * What the tables of the calculations do not show: the givens for which nobody names a source, one that several calculations share
 * once; what the items of the registers are that are named there; and entries of registers that no table of givens takes over as they stand.
 */
export function viewInputs(context: NoteContext) {
  const { note, blocks, methods, project, references } = context;
  const entries = new Map<string, InputEntry>();
  for (const block of [...blocks, ...methods]) {
    for (const given of block.evaluated.givens) {
      if (given.origin !== 'given') continue;
      const view = viewGiven(context, given);
      if (!view.source.missing) continue;
      const key = JSON.stringify(view);
      const entry = entries.get(key) ?? { view, calculations: [] };
      entry.calculations.push({ id: calculationId(block.id), number: block.number });
      entries.set(key, entry);
    }
  }
  const shown = new Set(
    [...blocks, ...methods].flatMap(({ evaluated }) => evaluated.givens.flatMap(takenEntry)),
  );
  const used = [...note.usedRegister];
  const items = [...new Set(used.map(([path]) => itemPath(path)))];
  return {
    fewUnsourced: entries.size > 0 && entries.size <= FEW_UNSOURCED,
    unsourced: [...entries.values()].map(({ view, ...rest }) => ({ ...view, ...rest })),
    items: items
      .map((path) => ({
        name: itemName(path),
        title: project.itemTitles.get(path) ?? '',
        file: used.find(([entry]) => itemPath(entry) === path)?.[1].file,
      }))
      .filter(({ title, file }) => title !== '' || file !== undefined)
      .map(({ name, title, file }) => ({
        name,
        title: title === '' ? '' : titleBehind(name, title),
        file: file === undefined ? '' : codeHtml(file),
      })),
    register: used
      .filter(([path]) => !shown.has(path))
      .map(([path, { print, source, file }]) => ({
        item: itemName(itemPath(path)),
        entry: wordEntry(path),
        file: file === undefined ? '' : codeHtml(file),
        print,
        source: linkPhrases(source ?? '', references.phrases),
        missing: source === undefined,
      })),
  };
}

/** The entry of a register that a given takes over as it stands, so that its value and source are shown with the given. */
function takenEntry({ origin, item, written = '' }: WordedGiven): readonly string[] {
  return item || origin === 'reference' ? [bare(written)] : [];
}

/** The last name of a path, in words: 'equipment.TX1.residual_voltage' as 'residual voltage'. */
function wordEntry(path: string): string {
  return path.slice(path.lastIndexOf('.') + 1).replaceAll('_', ' ');
}

/** What a symbol stands for somewhere: by the name that its definition gives to it. */
interface SymbolSense {
  readonly meaning: string;
  readonly units: Set<string>;
  readonly calculations: Set<string>;
}

/**
 * The symbols that stand for more than one thing, or all of them where the note asks for it, each with everything for which it
 * stands, in the order of the symbols as they are spoken.
 */
export function viewNomenclature(blocks: readonly NumberedBlock[], isFull: boolean) {
  const symbols = new Map<string, Map<string, SymbolSense>>();
  for (const block of blocks) {
    for (const { symbol, name, meaning, units } of listSymbols(block)) {
      if (symbol === '' || traitsOf(symbol).isWord) continue;
      const senses = symbols.get(symbol) ?? new Map<string, SymbolSense>();
      symbols.set(symbol, senses);
      const sense = senses.get(name) ?? { meaning, units: new Set(), calculations: new Set() };
      senses.set(name, sense);
      for (const unit of units) sense.units.add(unit);
      sense.calculations.add(block.number);
    }
  }
  return [...symbols]
    .map(([symbol, senses]) => ({ symbol, senses: [...senses.values()], order: sortingText(symbol) }))
    .filter(({ senses }) => isFull || standsForSeveral(senses))
    .sort((a, b) => (a.order < b.order ? -1 : a.order > b.order ? 1 : 0))
    .map(({ symbol, senses }) => ({
      symbol: texHtml(symbol),
      senses: senses.map(({ meaning, units, calculations }) => ({
        meaning,
        unit: [...units].filter((unit) => unit !== '1').join(', '),
        calculations: [...calculations].join(', '),
      })),
    }));
}

/** A meaning that another one begins with is the same in fewer words: 'height', 'height of the structure'. */
function standsForSeveral(senses: readonly SymbolSense[]): boolean {
  return senses.some(({ meaning }) =>
    senses.some((other) => !other.meaning.startsWith(meaning) && !meaning.startsWith(other.meaning)),
  );
}

function listSymbols({ evaluated }: WordedBlock) {
  return [
    ...evaluated.givens.map((given) => ({ ...given, units: unitsOfGiven(given) })),
    ...evaluated.givens.flatMap(({ name, table }) =>
      // A column of words has no symbol that formulas could use.
      (table?.columns ?? [])
        .filter(({ symbol }) => symbol !== '' && !traitsOf(symbol).isWord)
        .map((column) => ({ ...column, name: `${name}.${column.name}`, units: [column.unit || '1'] })),
    ),
    ...evaluated.steps.map((step) => ({ ...step, units: unitsOfResult(step.result) })),
  ];
}

/** Symbols are looked up by their letters, capital or small. */
function sortingText(symbol: string): string {
  return setTex(symbol).speech.toLowerCase();
}

/** The sources of the calculations, and the standards to which the author says that the work was done. */
export function viewReferences(
  references: ReferenceList,
  standards: readonly string[],
  words: Words,
  { people, numberOf, sourcesOpen }: ComparisonContext,
) {
  const nameOf = (by: string) => people.find(({ key }) => key === by)?.name ?? by;
  return {
    quoting: listQuoting(references),
    sources: references.sources.map(({ key, source, clauses }) => ({
      id: sourceId(key),
      designation: source.designation,
      title: source.title,
      edition: source.edition,
      address: source.address ?? '',
      superseded: source.supersededBy ?? '',
      clauses: clauses.map(({ clause, known, blocks, confirmed }) => ({
        clause: known.by === 'memory' ? clause : words.word(sayClause(clause, known)),
        isOpen: known.by === 'memory' && !confirmed,
        calculations: blocks.map((id) => ({ id: calculationId(id), number: numberOf(id) ?? '' })),
        confirmed: confirmed
          ? { ...confirmed, name: nameOf(confirmed.by), note: confirmed.note ?? '' }
          : null,
      })),
    })),
    recalled: references.sources.some(({ clauses }) => clauses.some(({ known }) => known.by === 'memory')),
    open: references.open.length,
    // The reason ends a paragraph.
    sourcesOpen: sourcesOpen?.replace(/\.?$/, '.') ?? '',
    standards: standards.map((standard) => {
      const known = knownStandard(standard);
      return {
        html: linkPhrases(known?.designation ?? standard, references.phrases),
        superseded: known?.supersededBy ?? '',
      };
    }),
  };
}

/** Sources that are only read for what they quote of others. */
function listQuoting({ sources }: ReferenceList) {
  const quoting = sources.flatMap(({ clauses }) =>
    clauses.flatMap(({ known }) => (known.by === 'quotation' ? [known.source] : [])),
  );
  return [...new Set(quoting)]
    .filter((key) => sources.every((one) => one.key !== key))
    .map((key) => {
      const { designation, title, edition, address = '' }: Source = SOURCES[key];
      return { designation, title, edition, address };
    });
}

/** Whether short rows are so many that they stand in two columns. */
export function isManyRows(rows: number): boolean {
  return rows > MOST_IN_ONE_COLUMN;
}

const MOST_IN_ONE_COLUMN = 5;

/** What the list of clauses to be compared needs to know of its document. */
export interface ComparisonContext {
  readonly people: readonly Person[];
  readonly numberOf: (block: string) => string | undefined;
  /** Why clauses may stay uncompared. */
  readonly sourcesOpen: string | undefined;
}

/** The standard that an author names, where this program knows it: one thing has one name in a document. */
function knownStandard(standard: string): Source | undefined {
  const known: readonly Source[] = Object.values(SOURCES);
  return known.find(({ designation }) => bareName(designation) === bareName(standard));
}

/** 'IEEE Std 80-2013' and 'IEEE 80-2013' are one. */
function bareName(designation: string): string {
  return designation
    .replace(/\bStd\.?\s+/i, '')
    .replace(/\s+/g, ' ')
    .trim()
    .toLowerCase();
}

export function viewAssumptions(assumptions: readonly Assumption[], locale: Locale) {
  return assumptions.map((one) => ({
    id: assumptionId(one.id),
    label: one.id,
    text: one.text,
    basis: one.basis ?? DASH,
    state: one.state,
    noticed: one.state === 'to be confirmed',
    follow: followUpHtml(one, locale),
  }));
}

export function viewHolds(holds: readonly Hold[], locale: Locale) {
  return holds.map((one) => ({
    id: holdId(one.id),
    label: one.id,
    missing: one.missing,
    effect: one.effect,
    state: one.state,
    noticed: one.state === 'open',
    follow: followUpHtml(one, locale),
  }));
}

/** Who sees to it, until when, and what has closed it; as HTML, so that a date is not broken. */
function followUpHtml({ owner, due, closedBy }: Assumption | Hold, locale: Locale): string {
  const parts = [
    owner === undefined ? '' : textHtml(owner),
    due === undefined ? '' : `due <span class="date">${textHtml(wordDays(due, locale))}</span>`,
    closedBy === undefined ? '' : `closed by ${keepDates(closedBy)}`,
  ];
  return parts.filter((part) => part !== '').join('; ') || DASH;
}

/** What stands behind the bold name of an item: of a title that begins with this name only the rest. */
function titleBehind(name: string, title: string): string {
  const rest = title.slice(name.length);
  return title.startsWith(name) && /^[,;: ]/.test(rest) ? rest : ` ${title}`;
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
