import type { WordedGiven } from '../engine/definition/evaluated.ts';
import type { SymbolTable } from '../formula/formula.ts';
import { parseFormula } from '../formula/parse-formula.ts';
import { traitsOf } from '../formula/symbol-traits.ts';
import { typesetFormula } from '../formula/typeset-formula.ts';
import { PURE_UNIT } from '../quantity/unit.ts';
import { readOtherNoteTarget } from '../source/reference-target.ts';
import { viewTable, wordTable } from './given-table-view.ts';
import { calculationId } from './ids.ts';
import { link, linkPhrases } from './link-phrases.ts';
import { mathHtml, texHtml } from './math/set-math.ts';
import type { BlockContext } from './note-context.ts';
import { basisHtml } from './reference-list.ts';
import { textHtml } from './text-html.ts';
import { wordOption } from './word-option.ts';
import { printGiven } from './word-values.ts';

/** Where a value comes from, as HTML; `missing` where nobody says. */
export interface SourceView {
  readonly html: string;
  readonly missing: boolean;
}

/** A list of more signs stands behind its meaning: in the column of values it would push the source off the page. */
const ONE_LINE = 36;

export function viewGiven(context: BlockContext, given: WordedGiven) {
  const lines = linesOf(given);
  const isWord = given.value.type === 'choice';
  return {
    name: given.name,
    // The symbol of a choice is a word, which says what its meaning says.
    symbol: isWord && traitsOf(given.symbol).isWord ? '' : texHtml(given.symbol),
    meaning: given.meaning,
    lines,
    table: given.table ? viewTable(given.table) : null,
    isWord,
    isLong: isWord || (given.value.type === 'list' && lines.some((line) => line.length > ONE_LINE)),
    source: viewSource(context, given),
  };
}

function linesOf(given: WordedGiven): readonly string[] {
  if (given.table) return [wordTable(given.table)];
  return given.chosen ? [wordOption(given.chosen)] : printGiven(given);
}

function viewSource(context: BlockContext, given: WordedGiven): SourceView {
  const named = sourceHtml(context, given);
  switch (given.origin) {
    case 'given':
      return { html: named, missing: !named };
    case 'default':
      // A table of which nobody has given a row asserts nothing that could have a source.
      if (given.value.type === 'rows' && given.value.rows.length === 0 && !named) {
        return { html: 'none given', missing: false };
      }
      return { html: named ? `default: ${named}` : 'default', missing: !named };
    case 'reference':
    case 'formula': {
      const written = given.written ?? '';
      if (given.item || (given.origin === 'reference' && isOfRegister(context, written))) {
        return { html: `${itemHtml(written)}${named ? `; ${named}` : ''}`, missing: false };
      }
      const html =
        given.origin === 'reference'
          ? `from ${writtenHtml(context, written)}`
          : `computed: ${formulaHtml(context, written)}`;
      return { html: `${html}${named ? `; ${named}` : ''}`, missing: false };
    }
  }
}

/** Whether a reference leads to neither a calculation nor another note. */
function isOfRegister(context: BlockContext, written: string): boolean {
  const target = bare(written);
  return readOtherNoteTarget(target) === undefined && context.nameOf(target.split('.')[0]!) === undefined;
}

/**
 * The item of the register that a given takes its value from, by its name: 'register, SPD1'. What it is, and the file that lists it, stand in the
 * annex of inputs.
 */
function itemHtml(written: string): string {
  return `register, ${textHtml(itemName(itemPath(bare(written))))}`;
}

function sourceHtml(context: BlockContext, { source, basis }: WordedGiven): string {
  if (basis) return basisHtml(basis, context);
  return source === undefined ? '' : linkPhrases(source, context.references.phrases);
}

/** A value of another calculation: by its symbol, and where that is none or a word, by what it means. */
function valueName(context: BlockContext, block: string, name: string): string {
  const value = context.valueIn(block, name);
  if (!value) return textHtml(name.replaceAll('_', ' '));
  return value.symbol === '' || traitsOf(value.symbol).isWord
    ? textHtml(value.meaning)
    : texHtml(value.symbol);
}

/** What was written, without its tag and quotes. */
export function bare(written: string): string {
  return written.replace(/^!(?:ref|formula)\s+/, '').replace(/^"(.*)"$/s, '$1');
}

/** 'equipment.TX1.height' as 'equipment.TX1' */
export function itemPath(entry: string): string {
  return entry.slice(0, entry.lastIndexOf('.'));
}

/** 'equipment.TX1' as 'TX1' */
export function itemName(path: string): string {
  return path.slice(path.indexOf('.') + 1);
}

/** A formula over other values as formulas are set, and where each value comes from; as it was written where two have one symbol. */
function formulaHtml(context: BlockContext, written: string): string {
  const parsed = parseFormula(bare(written));
  if (!parsed.ok) return writtenHtml(context, written);
  const { names } = parsed.value;
  const symbols = new Map(names.map((name) => [name, texOf(context, name)]));
  if (new Set(symbols.values()).size < names.length) return writtenHtml(context, written);
  const table: SymbolTable = new Map(
    [...symbols].map(([name, tex]) => [name, { type: 'number', tex, dimension: PURE_UNIT.dimension }]),
  );
  const origins = names.map((name) => targetHtml(context, name));
  return `${mathHtml(typesetFormula(parsed.value, table))}${origins.length > 0 ? `, ${origins.join('; ')}` : ''}`;
}

/** The symbol of a value elsewhere; the words of its name where it has none. */
function texOf(context: BlockContext, target: string): string {
  const [block, ...names] = target.split('.');
  const value = context.valueIn(block!, names.join('.'));
  if (value && value.symbol !== '') return value.symbol;
  return `\\text{${(names.at(-1) ?? target).replace(/[^A-Za-z0-9]+/g, ' ')}}`;
}

/** The text of a reference or formula; the names of blocks in it lead to their calculations. */
function writtenHtml(context: BlockContext, written: string): string {
  return bare(written)
    .split(/((?:\d+\/)?[A-Za-z][\w-]*(?:\.[\w-]+)+)/)
    .map((part, i) => (i % 2 === 0 ? textHtml(part) : targetHtml(context, part)))
    .join('');
}

/**
 * 'tx1.line_lead' as 'calculation 3, line_lead'; 'equipment.TX1.height' as 'register, TX1: height'; '201/risk.R1' as 'note EL-201 revision B
 * (signed off, not issued), Risk of the house: risk of loss of human life'.
 */
function targetHtml(context: BlockContext, target: string): string {
  const other = readOtherNoteTarget(target);
  const note = other && context.otherNote(other.number);
  if (other && note) {
    const state = note.sound ? textHtml(note.state) : `<strong>${textHtml(note.state)}</strong>`;
    const value = note.values.find((one) => one.target === target);
    const named = value
      ? [value.calculation, value.meaning].filter((part) => part !== '').join(': ')
      : other.local;
    return `note ${link(note.id, note.number)} revision ${textHtml(note.revision)} (${state}), ${textHtml(named)}`;
  }
  const [block, ...names] = target.split('.');
  const called = context.nameOf(block!);
  if (called !== undefined) {
    return `${link(calculationId(block!), called)}, ${valueName(context, block!, names.join('.'))}`;
  }
  const entry = names.pop() ?? '';
  return textHtml(`register, ${names.join(' ') || block}: ${entry.replaceAll('_', ' ')}`);
}
