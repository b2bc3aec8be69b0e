import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import { isReferenceTarget, readOtherNoteTarget } from '../../source/reference-target.ts';
import type { FoundDiagnostic } from '../evaluation/outcome.ts';
import { expectedAt } from '../keys/expected.ts';
import { yamlTextAt } from '../keys/ground-of.ts';
import { pieceOf } from '../project/block-names.ts';
import type { Reading } from '../project/reading.ts';
import { areaAt, findAreas } from '../text/find-areas.ts';
import { findYamlCursor } from '../text/yaml-cursor.ts';

/** An edit that would put something right. */
export interface QuickFix {
  readonly title: string;
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/**
 * Edits that would put a fault right, as far as one can be sure of what was meant. They never put in a number.
 *
 * @param start where the fault stands in the text
 */
export function quickFixes(
  reading: Reading,
  path: string,
  found: FoundDiagnostic,
  start: number,
  end: number,
): QuickFix[] {
  const text = reading.textOf(path);
  if (text === undefined) return [];
  const place = { reading, path, text, start, end };
  const data = found.data as FaultData;
  switch (found.code) {
    case 'missing-unit':
      return addUnit(place);
    case 'block-as-code':
    case 'block-without-yaml':
    case 'unknown-block-kind':
    case 'words-after-kind':
      return nameKind(place, data);
    case 'not-a-quantity':
    case 'malformed-unit':
    case 'unknown-unit':
    case 'unknown-option':
      return [...addReference(place), ...takeNearest(place, data)];
    case 'missing-given':
      return addGiven(place, data);
    default:
      return takeNearest(place, data);
  }
}

interface FaultPlace {
  readonly reading: Reading;
  readonly path: string;
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

/** What messages name: see `src/diagnostics/messages/`. */
interface FaultData {
  readonly nearest?: unknown;
  readonly kind?: unknown;
  readonly name?: unknown;
}

/** The data in which a message quotes the word that it refuses, the narrower first. */
const REFUSED = [
  'name',
  'column',
  'key',
  'unit',
  'caution',
  'row',
  'id',
  'number',
  'text',
  'target',
  'word',
  'path',
  'item',
  'by',
  'source',
  'clause',
];

/** The nearest name in place of the one that is not known. */
function takeNearest({ text, start, end }: FaultPlace, data: FaultData): QuickFix[] {
  const { nearest } = data;
  if (typeof nearest !== 'string' || nearest === '') return [];
  const written = text.slice(start, end);
  const words = REFUSED.flatMap((key) => {
    const word = (data as Readonly<Record<string, unknown>>)[key];
    return typeof word === 'string' && word !== '' ? [word] : [];
  });
  // A path that is not known as a whole has a nearest one as a whole.
  const target = words.find((word) => word === written && nearest.includes('.') === word.includes('.'));
  const refused = target ?? words.find((word) => occurrences(written, word) === 1);
  if (refused === undefined || refused === nearest) return [];
  const at = start + written.lastIndexOf(refused);
  return [{ title: `Write '${nearest}'`, start: at, end: at + refused.length, text: nearest }];
}

function occurrences(text: string, word: string): number {
  return text.split(word).length - 1;
}

/** The unit in which the given is shown; a person must see whether the number was meant in it. */
function addUnit({ reading, path, text, start, end }: FaultPlace): QuickFix[] {
  const yaml = yamlTextAt(reading, path, start);
  if (!yaml) return [];
  const { path: keys } = findYamlCursor(yaml.text, start - yaml.start);
  const expected = expectedAt(keys, yaml.ground);
  const given =
    expected?.is === 'given' ? expected.given : expected?.is === 'cell' ? expected.column : undefined;
  if (!given || !('unit' in given)) return [];
  const stop = start + text.slice(start, end).trimEnd().length;
  return [{ title: `Add the unit ${given.unit}`, start: stop, end: stop, text: ` ${given.unit}` }];
}

/** The kind of block in the line that opens it. */
function nameKind({ text, start }: FaultPlace, { kind, nearest }: FaultData): QuickFix[] {
  const meant = typeof kind === 'string' ? kind : nearest;
  const area = areaAt(findAreas(text), start);
  if (typeof meant !== 'string' || !area) return [];
  const { info } = area;
  return [{ title: `Mark it as yaml ${meant}`, start: info.start, end: info.end, text: `yaml ${meant}` }];
}

/** `!ref` before what is the name of a value. */
function addReference({ reading, path, start }: FaultPlace): QuickFix[] {
  const yaml = yamlTextAt(reading, path, start);
  if (!yaml) return [];
  const cursor = findYamlCursor(yaml.text, start - yaml.start);
  const written = yaml.text.slice(cursor.start, cursor.end);
  const target = written.replace(/^(["'])(.*)\1$/, '$2');
  const isValue = cursor.at === 'value' || cursor.at === 'item';
  if (!isValue || !isReferenceTarget(target)) return [];
  const isKnown =
    reading.project?.register.has(target) ||
    pieceOf(reading, path, target.split('.')[0]!) !== undefined ||
    readOtherNoteTarget(target) !== undefined;
  if (!isKnown) return [];
  const [from, to] = [yaml.start + cursor.start, yaml.start + cursor.end];
  return [{ title: 'Make it a reference', start: from, end: to, text: `!ref ${target}` }];
}

/** A line for a given that is missing, its value to be written. */
function addGiven({ reading, path, text, start }: FaultPlace, { name }: FaultData): QuickFix[] {
  const area = areaAt(findAreas(text), start);
  const yaml = area && yamlTextAt(reading, path, area.content.end);
  if (!area || !yaml || typeof name !== 'string') return [];
  const given = /^([ \t>]*)given:[ \t]*$/m.exec(text.slice(area.content.start, area.content.end));
  const definition = yaml.ground.calculation?.definition.givens[name];
  if (!given || !definition || !CALCULATIONS.has(yaml.ground.calculation!.definition.name)) return [];
  const at = area.content.start + given.index + given[0].length;
  return [{ title: `Add '${name}:' under 'given:'`, start: at, end: at, text: `\n${given[1]}  ${name}: ` }];
}
