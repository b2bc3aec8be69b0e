import type { GivenColumn, GivenTable } from '../engine/definition/evaluated.ts';
import { traitsOf } from '../formula/symbol-traits.ts';
import { setTex, texHtml } from './math/set-math.ts';
import { shortOption } from './word-option.ts';
import { DASH } from './word-values.ts';

interface Heading {
  readonly symbol: string;
  readonly name: string;
  readonly unit: string;
}

/** Columns that stand side by side, with what tells the rows apart before them. */
interface TablePart {
  readonly label: string;
  readonly isLabelled: boolean;
  readonly columns: readonly Heading[];
  readonly rows: readonly { readonly label: string; readonly cells: readonly string[] }[];
}

/** The width of the page in em of the type of its tables, and what a column takes beside its words. */
const PAGE_EM = 57;
const GAP_EM = 0.9;
/** A sign of the type of the tables is on average narrower. */
const SIGN_EM = 0.5;
/** The type of a symbol against that of the words around it, as the style sheet sets it. */
const MATH_EM = 1.12;

/** 'table of 3 rows', where the rows themselves stand elsewhere. */
export function wordTable({ columns }: GivenTable<string>): string {
  const rows = columns[0]?.cells.length ?? 0;
  return rows === 1 ? 'table of one row' : `table of ${rows} rows`;
}

/** A table that was given, one line a row; where it is wider than the page, in parts below each other, each with its rows named. */
export function viewTable({ columns, rowsBy }: GivenTable<string>): readonly TablePart[] {
  const [names] = columns;
  const byName = rowsBy === 'name' && names !== undefined;
  const labels = byName ? names.cells : (names?.cells ?? []).map((_, i) => `${i + 1}`);
  const isLabelled = rowsBy !== 'nothing';
  const rest = byName ? columns.slice(1) : columns;
  const label = byName ? wordName(names.name) : 'No.';
  const labelEm = isLabelled ? widthOf([label, ...labels]) : 0;
  return packColumns(rest.map(withWords), PAGE_EM - labelEm).map((part) => ({
    label,
    isLabelled,
    columns: part.map((column) => ({
      symbol: texHtml(symbolOf(column)),
      name: wordName(column.name),
      unit: column.unit,
    })),
    rows: labels.map((one, i) => ({ label: one, cells: part.map(({ cells }) => cells[i] || DASH) })),
  }));
}

/** A column of choices with its options in a few words. */
function withWords(column: GivenColumn<string>): GivenColumn<string> {
  const { chosen } = column;
  return chosen ? { ...column, cells: chosen.map((one) => (one ? shortOption(one) : '')) } : column;
}

/** As many columns in a part as fit beside each other; none at all where a table has names alone. */
function packColumns(columns: readonly GivenColumn<string>[], em: number): GivenColumn<string>[][] {
  const parts: GivenColumn<string>[][] = [[]];
  let left = em;
  for (const column of columns) {
    const width = columnEm(column);
    if (width > left && parts.at(-1)!.length > 0) {
      parts.push([]);
      left = em;
    }
    parts.at(-1)!.push(column);
    left -= width;
  }
  return parts;
}

/** A heading may be broken between its words, a cell nowhere. */
function columnEm(column: GivenColumn<string>): number {
  const symbol = symbolOf(column);
  const unit = column.unit === '' ? '' : ` in ${column.unit}`;
  const symbolEm = symbol === '' ? 0 : setTex(symbol).width.whole * MATH_EM + widthOf([unit]);
  return Math.max(symbolEm, widthOf([...wordName(column.name).split(' '), unit, ...column.cells]));
}

/** A symbol that is a word, as that of a choice, says what the name of the column says. */
function symbolOf({ symbol }: Pick<GivenColumn, 'symbol'>): string {
  return traitsOf(symbol).isWord ? '' : symbol;
}

function widthOf(words: readonly string[]): number {
  return Math.max(...words.map((word) => [...word].length)) * SIGN_EM + GAP_EM;
}

function wordName(name: string): string {
  return name.replaceAll('_', ' ');
}
