import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import type { RowsGiven } from '../../engine/definition/definition.ts';
import { aboutGiven, isAlternative, wordNeed, wordShape } from '../describe/describe-given.ts';
import { COLUMN_KEYS, VALUE_KEYS } from '../keys/block-keys.ts';
import { ITEM_TITLE_KEYS, REGISTER_VALUE_KEYS } from '../keys/document-keys.ts';
import { type Expected, expectedAt } from '../keys/expected.ts';
import type { YamlText } from '../keys/ground-of.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { knownProperties } from '../project/known-properties.ts';
import type { Reading } from '../project/reading.ts';
import { findYamlCursor, type YamlCursor } from '../text/yaml-cursor.ts';
import { completeValue } from './complete-values.ts';
import type { Offer, Stretch } from './offer.ts';

/** Where in a YAML text something is to be completed, and what is known of the place. */
export interface YamlPlace {
  readonly reading: Reading;
  readonly path: string;
  readonly yaml: YamlText;
  readonly cursor: YamlCursor;
  readonly expected: Expected;
  readonly stretch: Stretch;
}

/** Keys, words and values that may stand at an offset of a YAML text. */
export function completeYaml(reading: Reading, path: string, yaml: YamlText, offset: number): Offer[] {
  const cursor = findYamlCursor(yaml.text, offset - yaml.start);
  const expected = expectedAt(cursor.path, yaml.ground);
  if (!expected) return [];
  const start = yaml.start + cursor.start;
  const typed = yaml.text.slice(cursor.start, offset - yaml.start);
  const stretch = { start, end: yaml.start + cursor.end, typed };
  const place = { reading, path, yaml, cursor, expected, stretch };
  switch (cursor.at) {
    case 'key':
      return completeKeys(place);
    case 'item':
      return [...completeKeys(place), ...completeValue(place)];
    case 'value':
      return completeValue(place);
    case 'text':
      return [];
  }
}

function completeKeys(place: YamlPlace): Offer[] {
  const { expected, cursor, yaml } = place;
  switch (expected.is) {
    case 'keys':
      return offerKeys(expected.table, place, yaml.ground.hasRegister && cursor.path.length === 0 ? 1 : 0);
    case 'items':
      // A list of mappings may be begun by its first key, before the dash is written.
      return cursor.path.length === 0 ? offerKeys(expected.table, place, 0, '- ') : [];
    case 'givens':
      return yaml.ground.calculation ? offerGivens(yaml.ground.calculation, place) : [];
    case 'given':
      return cursor.at === 'item' || expected.given.type === 'rows' ? [] : offerKeys(VALUE_KEYS, place);
    case 'row':
      return offerColumns(expected.given, place);
    case 'columns':
      return yaml.ground.calculation ? offerGivensOfCells(yaml.ground.calculation, place) : [];
    case 'column':
      return offerKeys(COLUMN_KEYS, place);
    case 'item':
      return [...offerKeys(ITEM_TITLE_KEYS, place), ...offerProperties(place)];
    case 'property':
      return offerKeys(REGISTER_VALUE_KEYS, place);
    default:
      return [];
  }
}

/** Keys that are not yet written, those that must be there first. */
function offerKeys(table: KeyTable, place: YamlPlace, rank = 0, before = ''): Offer[] {
  return Object.entries(table)
    .filter(([key]) => !place.cursor.written.includes(key))
    .map(([key, { meaning, required, example, keys, items, named, answer }], index) => {
      const opens = (keys ?? items ?? named) !== undefined || answer === 'givens' || answer === 'columns';
      return offerKey(place, key, {
        before,
        detail: required ? 'required' : undefined,
        about: example === undefined ? meaning : `${meaning}\n\nfor example \`${key}: ${example}\``,
        rank: rank + (required ? 0 : 1) + index / 1000,
        opens: opens && place.expected.is === 'keys',
      });
    });
}

interface KeyOffer {
  readonly before?: string;
  readonly detail?: string | undefined;
  readonly about?: string | undefined;
  readonly rank: number;
  /** What belongs to it begins on the next line. */
  readonly opens?: boolean;
}

function offerKey({ cursor, stretch }: YamlPlace, key: string, offer: KeyOffer): Offer {
  const { before = '', detail, about, rank, opens } = offer;
  const behind = cursor.hasColon ? '' : opens ? ':' : ': ';
  const { start, end } = stretch;
  return { label: key, sort: 'key', insert: `${before}${key}${behind}`, detail, about, rank, start, end };
}

/** Givens that are not yet written: those that are required first, then alternatives, then the others. */
function offerGivens(calculation: CompiledCalculation, place: YamlPlace): Offer[] {
  return Object.entries(calculation.definition.givens)
    .filter(([name]) => !place.cursor.written.includes(name))
    .map(([name, given], index) => {
      const group = calculation.required.has(name) ? 0 : isAlternative(calculation, name) ? 1 : 2;
      return offerKey(place, name, {
        detail: wordNeed(calculation, name, given),
        about: aboutGiven(calculation, name),
        rank: group + index / 1000,
        opens: given.type === 'rows',
      });
    });
}

/** Of a schedule, the givens that a cell can hold. */
function offerGivensOfCells(calculation: CompiledCalculation, place: YamlPlace): Offer[] {
  const single = Object.entries(calculation.definition.givens).filter(
    ([, given]) => given.type === 'quantity' || given.type === 'choice',
  );
  return single
    .filter(([name]) => !place.cursor.written.includes(name))
    .map(([name, given], index) =>
      offerKey(place, name, {
        detail: wordNeed(calculation, name, given),
        about: aboutGiven(calculation, name),
        rank: (calculation.required.has(name) ? 0 : 1) + index / 1000,
      }),
    );
}

function offerColumns({ columns }: RowsGiven, place: YamlPlace): Offer[] {
  return Object.entries(columns)
    .filter(([name]) => !place.cursor.written.includes(name))
    .map(([name, column], index) =>
      offerKey(place, name, {
        detail: `${column.optional || 'default' in column ? 'optional' : 'required'}, ${wordShape(column)}`,
        about: column.meaning,
        rank: (column.optional ? 1 : 0) + index / 1000,
      }),
    );
}

/** Names of givens, by which an item of the register can fill them. */
function offerProperties(place: YamlPlace): Offer[] {
  return knownProperties(place.reading)
    .filter(({ name }) => !place.cursor.written.includes(name))
    .map(({ name, meaning, uses }, index) =>
      offerKey(place, name, { detail: meaning, rank: (uses > 0 ? 1 : 2) + index / 10_000 }),
    );
}
