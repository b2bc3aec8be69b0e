import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import type { ColumnDefinition, GivenDefinition } from '../../engine/definition/definition.ts';
import { readUnit } from '../../quantity/unit.ts';
import { hasKind } from '../../quantity/voltage-kind.ts';
import { statesToWrite } from '../../source/document-states.ts';
import { aboutCalculation } from '../describe/describe-given.ts';
import { writtenAt } from '../keys/ground-of.ts';
import type { KeyText } from '../keys/key-table.ts';
import { calculationOfPiece, pieceOf, piecesWithId } from '../project/block-names.ts';
import { givensOfCatalogue } from '../project/known-properties.ts';
import { tableOf } from '../project/table-heads.ts';
import { completeReferences, type ReferenceUse, referenceStretch } from './complete-references.ts';
import type { YamlPlace } from './complete-yaml.ts';
import type { Offer } from './offer.ts';
import { unitsLike } from './units.ts';

/** What may stand behind a key, or as an item of a list. */
export function completeValue(place: YamlPlace): Offer[] {
  const { expected } = place;
  switch (expected.is) {
    case 'given':
      return expected.given.type === 'rows' ? [] : offerGivenValue(expected.given, place);
    case 'cell':
      return offerGivenValue(expected.column, place);
    case 'property': {
      const given = givensOfCatalogue().get(expected.name);
      return given ? offerPlainValue(given, place) : [];
    }
    case 'unit':
      return expected.unit === undefined ? [] : offerWords(unitsLike(expected.unit), 'unit', place);
    case 'column':
      return offerTableColumns(place);
    case 'keys':
    case 'items':
    case 'text':
      return expected.text ? offerText(expected.text, place) : [];
    default:
      return [];
  }
}

function offerGivenValue(given: GivenDefinition | ColumnDefinition, place: YamlPlace): Offer[] {
  const use: ReferenceUse = {
    inProse: false,
    unit: 'unit' in given ? given.unit : undefined,
    isChoice: given.type === 'choice',
    ownId: writtenAt(place.yaml.text, 'id'),
  };
  const tagged = offerTagged(use, place);
  if (tagged) return tagged;
  const plain = offerPlainValue(given, place);
  const isBegun = /\d/.test(place.stretch.typed);
  const isName = given.type === 'name' || given.type === 'names';
  return isBegun || isName ? plain : [...plain, ...offerTags(given, place)];
}

/** Behind `!ref` a reference, and in the braces of a `!formula`; undefined where no tag is written. */
function offerTagged(use: ReferenceUse, place: YamlPlace): Offer[] | undefined {
  const { reading, path, stretch, yaml } = place;
  const tag = /^!(ref|formula)\b/.exec(stretch.typed)?.[1];
  if (tag === undefined) return undefined;
  const offset = stretch.start + stretch.typed.length;
  const text = reading.textOf(path) ?? '';
  if (tag === 'ref') {
    const from = stretch.start + '!ref'.length;
    const word = referenceStretch(text, offset, from);
    const needsBlank = offset === from;
    const offers = completeReferences(reading, path, word, use);
    return needsBlank
      ? offers.map((offer) => ({ ...offer, insert: ` ${offer.insert ?? offer.label}` }))
      : offers;
  }
  const opening = stretch.typed.lastIndexOf('{');
  if (opening <= stretch.typed.lastIndexOf('}')) return [];
  const word = referenceStretch(text, offset, stretch.start + opening + 1);
  return completeReferences(reading, path, word, { inProse: false, ownId: writtenAt(yaml.text, 'id') });
}

function offerTags(given: GivenDefinition | ColumnDefinition, { stretch }: YamlPlace): Offer[] {
  const { start, end } = stretch;
  const offers: Offer[] = [
    {
      label: '!ref',
      sort: 'reference',
      insert: '!ref ',
      detail: 'the value of another block or of the register',
      rank: 20,
      start,
      end,
      goesOn: true,
    },
  ];
  if (given.type === 'choice') return offers;
  return [
    ...offers,
    {
      label: '!formula',
      sort: 'reference',
      insert: '!formula ""',
      detail: `computed, with references in braces: "{block.name} + 1 ${'unit' in given && given.unit !== '1' ? given.unit : 'm'}"`,
      rank: 21,
      start,
      end,
    },
  ];
}

function offerPlainValue(given: GivenDefinition | ColumnDefinition, place: YamlPlace): Offer[] {
  const { start, end } = place.stretch;
  if (given.type === 'choice') {
    return Object.entries(given.options).map(([option, meaning], rank) => ({
      label: option,
      sort: 'option',
      insert: quoteIfNeeded(option),
      detail: meaning,
      rank: rank / 1000,
      start,
      end,
    }));
  }
  if (given.type !== 'quantity' && given.type !== 'list') return [];
  const units = offerUnits(given.unit, place);
  if (units) return units;
  const typical = given.type === 'quantity' ? (given.typical ?? []) : [];
  const usual = given.type === 'quantity' && given.default ? [given.default.value] : [];
  return [
    ...usual.map(
      (value): Offer => ({ label: value, sort: 'value', detail: 'the default', rank: 10, start, end }),
    ),
    ...typical
      .filter(({ value }) => !usual.includes(value))
      .map(
        ({ value, for: use }, index): Offer => ({
          label: value,
          sort: 'value',
          detail: `typical for ${use}`,
          rank: 11 + index / 1000,
          start,
          end,
        }),
      ),
  ];
}

const NUMBER = /^["']?([+-]?\d[\d.]*(?:e[+-]?\d+)?)([ \t]*)(.*)$/is;

/** Behind a number its unit, and behind the unit of a voltage or current its kind; undefined where no number is written. */
function offerUnits(unit: string, place: YamlPlace): Offer[] | undefined {
  const { stretch } = place;
  const [, number, blank, behind] = NUMBER.exec(stretch.typed) ?? [];
  if (number === undefined || blank === undefined || behind === undefined) return undefined;
  const reading = readUnit(unit);
  const written = /^(\S+(?: \S+)*?)[ \t]+([\w.-]*)$/.exec(behind);
  const offset = stretch.start + stretch.typed.length;
  if (written && reading.ok && hasKind(reading.value.dimension) && readUnit(written[1]!).ok) {
    const start = offset - written[2]!.length;
    return KINDS.map((label, index) => ({
      label,
      sort: 'unit',
      rank: index / 1000,
      start,
      end: stretch.end,
    }));
  }
  const start = offset - behind.length;
  const joint = blank === '' && !behind.startsWith('%') ? ' ' : '';
  return unitsLike(unit).map((label, index) => ({
    label,
    sort: 'unit',
    insert: `${joint}${label}`,
    rank: index / 1000,
    start,
    end: stretch.end,
  }));
}

const KINDS = ['peak', 'rms', 'peak phase-earth', 'rms phase-phase', 'rms phase-earth', 'rms line-neutral'];

function offerText(text: KeyText, place: YamlPlace): Offer[] {
  const { start, end } = place.stretch;
  const options = Object.entries(text.options ?? {}).map(
    ([option, detail], rank): Offer => ({
      label: option,
      sort: 'option',
      detail,
      rank: rank / 1000,
      start,
      end,
    }),
  );
  return [...options, ...answer(text, place)];
}

function answer({ answer: asked }: KeyText, place: YamlPlace): Offer[] {
  switch (asked) {
    case 'calculation':
      return offerCalculations(place);
    case 'block':
      return offerIds(place);
    case 'given-names':
      return offerBaseGivens(place);
    case 'item':
      return offerItems(place);
    case 'caution':
      return offerCautions(place);
    case 'person':
      return offerPeople(place);
    case 'status':
      return place.reading.project ? offerWords(statesToWrite(place.reading.project), 'option', place) : [];
    case 'table':
      return offerWords(place.reading.tables, 'file', place);
    case 'column':
      return offerTableColumns(place);
    case 'own-name':
      return offerOwnNames(place);
    case 'reference':
      return offerOwnValue(place);
    case 'unit':
      return offerWords(COMMON_UNITS, 'unit', place);
    default:
      return [];
  }
}

/** Where nothing says of which dimension a unit must be. */
const COMMON_UNITS = [
  '1',
  'm',
  'mm',
  'mm^2',
  's',
  'us',
  'A',
  'kA',
  'V',
  'kV',
  'ohm',
  'ohm m',
  'uH',
  'uH/m',
  'kA/us',
  'kJ',
  'MJ/ohm',
  '%',
];

function offerWords(words: readonly string[], sort: Offer['sort'], place: YamlPlace): Offer[] {
  const { start, end } = place.stretch;
  return words.map((label, index) => ({
    label,
    sort,
    rank: index / 1000,
    start,
    end,
    insert: quoteIfNeeded(label),
  }));
}

function offerCalculations({ stretch: { start, end } }: YamlPlace): Offer[] {
  return [...CALCULATIONS.values()].map((calculation, index) => ({
    label: calculation.name,
    sort: 'calculation',
    detail: calculation.title,
    get about() {
      return aboutCalculation(calculation);
    },
    rank: index / 1000,
    start,
    end,
  }));
}

/** Ids of the blocks of this note but the one in which they are asked for. */
function offerIds({ reading, path, yaml, stretch: { start, end }, cursor }: YamlPlace): Offer[] {
  const own = writtenAt(yaml.text, 'id');
  const isBase = cursor.path[0] === 'based_on';
  return piecesWithId(reading, path)
    .filter(({ kind, head: { id } }) => id!.text !== own && (!isBase || kind === 'calc'))
    .map((piece, index) => ({
      label: piece.head.id!.text,
      sort: 'name',
      detail: calculationOfPiece(reading, path, piece)?.definition.name,
      rank: index / 1000,
      start,
      end,
    }));
}

function offerBaseGivens(place: YamlPlace): Offer[] {
  const { reading, path, yaml, stretch } = place;
  const base = pieceOf(reading, path, writtenAt(yaml.text, 'based_on') ?? '');
  const written = base?.head.given.map(({ key }) => key) ?? [];
  const { calculation } = yaml.ground;
  return Object.entries(calculation?.definition.givens ?? {}).map(([name, { meaning }], index) => ({
    label: name,
    sort: 'name',
    detail: meaning,
    rank: (written.includes(name) ? 0 : 1) + index / 1000,
    start: stretch.start,
    end: stretch.end,
  }));
}

function offerItems({ reading, yaml, stretch: { start, end } }: YamlPlace): Offer[] {
  const { project } = reading;
  const items = new Map<string, string[]>();
  for (const path of project?.register.keys() ?? []) {
    const item = path.slice(0, path.lastIndexOf('.'));
    items.set(item, [...(items.get(item) ?? []), path.slice(item.length + 1)]);
  }
  const givens = Object.keys(yaml.ground.calculation?.definition.givens ?? {});
  return [...items].map(([item, names], index) => {
    const filled = names.filter((name) => givens.includes(name));
    return {
      label: item,
      sort: 'reference',
      detail: filled.length > 0 ? `fills ${filled.join(', ')}` : project?.itemTitles.get(item),
      rank: (filled.length > 0 ? 0 : 1) + index / 1000,
      start,
      end,
    };
  });
}

/** The cautions that a calculation may give, by their ids. */
function offerCautions({ yaml, stretch: { start, end } }: YamlPlace): Offer[] {
  const { calculation } = yaml.ground;
  if (!calculation) return [];
  return cautionsOf(calculation).map(([label, detail], index) => ({
    label,
    sort: 'name',
    detail,
    rank: index / 1000,
    start,
    end,
  }));
}

function cautionsOf({ definition }: CompiledCalculation): (readonly [id: string, text: string])[] {
  const { cautions = {}, validity = {}, givens } = definition;
  return [
    ...Object.entries(cautions).map(([id, { text }]) => [id, text] as const),
    ...Object.entries(validity)
      .filter(([, { otherwise }]) => otherwise !== 'error')
      .map(([id, { text }]) => [`validity-${id}`, text] as const),
    ...Object.entries(givens)
      .filter(([, given]) => 'usual' in given && given.usual !== undefined)
      .map(([name, { meaning }]) => [`usual-range-${name}`, `outside the usual range: ${meaning}`] as const),
  ];
}

function offerPeople({ reading, yaml, stretch: { start, end } }: YamlPlace): Offer[] {
  // An acceptance is printed with the name as it is written there; elsewhere the key is asked for.
  const byName = yaml.kind === 'calc' || yaml.kind === 'formula' || yaml.kind === 'schedule';
  return (reading.project?.people ?? []).map(({ key, name, designation }, index) => ({
    label: byName ? name : key,
    sort: 'name',
    detail: byName ? designation : name,
    rank: index / 1000,
    start,
    end,
  }));
}

function offerTableColumns(place: YamlPlace): Offer[] {
  const { reading, yaml } = place;
  const file = yaml.kind === 'project' ? undefined : writtenAt(yaml.text, 'rows');
  const table = file === undefined ? undefined : tableOf(reading, file);
  const heads = table?.header.map(({ text }) => text) ?? [];
  return offerWords(heads, 'name', place);
}

/** Names of the givens and steps of a block of the engineer's own, for its formulas. */
function offerOwnNames(place: YamlPlace): Offer[] {
  const { yaml, stretch } = place;
  const names = [...yaml.text.matchAll(/^ {2,4}([A-Za-z][A-Za-z0-9_]*):/gm)].map((match) => match[1]!);
  const offset = stretch.typed.length + stretch.start;
  const typed = /\w*$/.exec(stretch.typed)![0];
  const isNamed = (name: string): boolean => new RegExp(`^ {2}${name}:`, 'm').test(yaml.text);
  return [...new Set(names)].filter(isNamed).map((label, index) => ({
    label,
    sort: 'name',
    rank: index / 1000,
    start: offset - typed.length,
    end: offset,
  }));
}

/** The value of a given of the engineer's own: of the dimension of the unit that stands beside it. */
function offerOwnValue(place: YamlPlace): Offer[] {
  const { yaml, cursor } = place;
  const name = cursor.path[1];
  const unit =
    name === undefined
      ? undefined
      : new RegExp(`^ {2}${name}:[^\\n]*?\\bunit:[ ]*["']?([^,"'}\\n]+)`, 'm').exec(yaml.text)?.[1]?.trim();
  const own = writtenAt(yaml.text, 'id');
  const tagged = offerTagged({ inProse: false, unit, ownId: own }, place);
  if (tagged) return tagged;
  const units = unit === undefined ? undefined : offerUnits(unit, place);
  return units ?? offerTags({ type: 'quantity', unit: unit ?? 'm', symbol: '', meaning: '' }, place);
}

/** Words that YAML would take for something else without quotes. */
function quoteIfNeeded(word: string): string {
  return /^[%@`&*!|>#[\]{},?:-]|: |\s#|^\s|\s$/.test(word) ? JSON.stringify(word) : word;
}
