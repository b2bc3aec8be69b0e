import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import type { ColumnDefinition, GivenDefinition, RowsGiven } from '../../engine/definition/definition.ts';
import { COLUMN_KEYS, VALUE_KEYS } from './block-keys.ts';
import { ITEM_TITLE_KEYS, REGISTER_VALUE_KEYS } from './document-keys.ts';
import type { KeyTable, KeyText } from './key-table.ts';

/** What may stand at a place of a YAML text, before anything is known of what does stand there. */
export type Expected =
  /** A mapping with keys of a table; `text` where words may stand in its place. */
  | { readonly is: 'keys'; readonly table: KeyTable; readonly text?: KeyText }
  /** A list of mappings. */
  | { readonly is: 'items'; readonly table: KeyTable; readonly text: KeyText }
  /** A mapping from names of the author's choice. */
  | { readonly is: 'named'; readonly table: KeyTable; readonly text: KeyText }
  | { readonly is: 'text'; readonly text: KeyText }
  | { readonly is: 'givens'; readonly text: KeyText }
  | { readonly is: 'given'; readonly name: string; readonly given: GivenDefinition }
  | { readonly is: 'row'; readonly name: string; readonly given: RowsGiven }
  | { readonly is: 'cell'; readonly name: string; readonly column: ColumnDefinition }
  /** Givens by the columns that fill them. */
  | { readonly is: 'columns'; readonly text: KeyText }
  | { readonly is: 'column'; readonly name: string; readonly given: GivenDefinition | undefined }
  | { readonly is: 'unit'; readonly unit: string | undefined }
  /** The register: sections, their items, and the values of these. */
  | { readonly is: 'section' }
  | { readonly is: 'item' }
  | { readonly is: 'property'; readonly name: string };

/** What a text is on the whole. */
export interface Ground {
  /** The keys of the outermost mapping; of a list, those of its items. */
  readonly table: KeyTable;
  readonly isList?: boolean;
  /** Further keys are sections of a register. */
  readonly hasRegister?: boolean;
  readonly calculation?: CompiledCalculation | undefined;
}

/** What may stand where a path of keys leads; undefined where nothing is known of it. */
export function expectedAt(path: readonly string[], ground: Ground): Expected | undefined {
  const { table } = ground;
  let expected: Expected | undefined = ground.isList
    ? { is: 'items', table, text: { meaning: '', required: false } }
    : { is: 'keys', table };
  for (const [index, key] of path.entries()) {
    if (!expected) return undefined;
    const isSection = index === 0 && ground.hasRegister === true && !Object.hasOwn(table, key);
    expected = isSection ? { is: 'section' } : below(expected, key, ground);
  }
  return expected;
}

function below(expected: Expected, key: string, { calculation }: Ground): Expected | undefined {
  switch (expected.is) {
    case 'keys':
      return keyOf(expected.table, key);
    case 'items':
      if (key === '-') return { is: 'keys', table: expected.table, text: expected.text };
      return undefined;
    case 'named':
      return { is: 'keys', table: expected.table };
    case 'text':
      return key === '-' ? expected : undefined;
    case 'givens': {
      const given = calculation?.definition.givens[key];
      return given && { is: 'given', name: key, given };
    }
    case 'given':
      return belowGiven(expected, key);
    case 'row': {
      const column = expected.given.columns[key];
      return column && { is: 'cell', name: key, column };
    }
    case 'columns':
      return { is: 'column', name: key, given: calculation?.definition.givens[key] };
    case 'column':
      return belowColumn(expected.given, key);
    case 'section':
      return { is: 'item' };
    case 'item':
      return Object.hasOwn(ITEM_TITLE_KEYS, key)
        ? { is: 'text', text: ITEM_TITLE_KEYS[key]! }
        : { is: 'property', name: key };
    case 'property':
      if (key === 'value') return expected;
      return Object.hasOwn(REGISTER_VALUE_KEYS, key)
        ? { is: 'text', text: REGISTER_VALUE_KEYS[key]! }
        : undefined;
    default:
      return undefined;
  }
}

function keyOf(table: KeyTable, key: string): Expected | undefined {
  const text = Object.hasOwn(table, key) ? table[key] : undefined;
  if (!text) return undefined;
  if (text.answer === 'givens') return { is: 'givens', text };
  if (text.answer === 'columns') return { is: 'columns', text };
  if (text.keys) return { is: 'keys', table: text.keys, text };
  if (text.items) return { is: 'items', table: text.items, text };
  if (text.named) return { is: 'named', table: text.named, text };
  return { is: 'text', text };
}

function belowGiven(expected: Extract<Expected, { is: 'given' }>, key: string): Expected | undefined {
  const { name, given } = expected;
  if (key === '-') return given.type === 'rows' ? { is: 'row', name, given } : expected;
  if (key === 'value' || key === 'range' || key === 'plus_minus') return expected;
  return Object.hasOwn(VALUE_KEYS, key) ? { is: 'text', text: VALUE_KEYS[key]! } : undefined;
}

function belowColumn(given: GivenDefinition | undefined, key: string): Expected | undefined {
  if (key === 'unit') return { is: 'unit', unit: given && 'unit' in given ? given.unit : undefined };
  return Object.hasOwn(COLUMN_KEYS, key) ? { is: 'text', text: COLUMN_KEYS[key]! } : undefined;
}
