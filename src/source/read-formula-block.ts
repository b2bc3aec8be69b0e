import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { FormulaBlock, OwnCheck, OwnGiven, OwnStep } from './note-source.ts';
import { action } from './read-action.ts';
import { accept } from './read-calc-block.ts';
import { blockCase } from './read-case.ts';
import { blockId, checkName } from './read-names.ts';
import { option, optional, type Read, readRecord, required, text, texts } from './read-shape.ts';
import { composeValue, isEmpty, namedEntries, VALUE_SHAPE } from './read-value.ts';
import type { MapEntry, SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

export const OWN_GIVEN = {
  symbol: required(text, 'L'),
  meaning: required(text, 'inductance of the lead'),
  unit: required(text, 'kV, or unit: 1 for a pure number'),
  ...VALUE_SHAPE,
};

function readGiven(entry: MapEntry, collector: Collector): OwnGiven | undefined {
  const reading = readRecord(entry.value, OWN_GIVEN, describe(entry, 'the given'), collector);
  const { symbol, meaning, unit } = reading?.values ?? {};
  if (!reading || !checkName(entry, collector) || !symbol || !meaning || !unit) return undefined;
  return {
    name: entry.key,
    namePlace: entry.keyPlace,
    symbol,
    symbolPlace: reading.places.get('symbol')!,
    meaning,
    unit,
    unitPlace: reading.places.get('unit')!,
    ...composeValue(reading.values, entry.value, collector),
  };
}

/** Name -> unit in which it counts, for a formula that takes numbers. */
const numeric: Read<Readonly<Record<string, string>>> = (node, key, collector) => {
  const entries = namedEntries(node, key, collector);
  const units = entries?.map(({ key: name, value }) => [name, text(value, name, collector)] as const);
  return units && Object.fromEntries(units.filter((pair): pair is [string, string] => pair[1] !== undefined));
};

export const OWN_STEP = {
  symbol: required(text, 'U'),
  meaning: required(text, 'voltage along the lead'),
  unit: required(text, 'kV'),
  formula: required(text, 'inductance * steepness'),
  source: optional(text),
  numeric: optional(numeric),
};

function readStep(entry: MapEntry, collector: Collector): OwnStep | undefined {
  const reading = readRecord(entry.value, OWN_STEP, describe(entry, 'the step'), collector);
  const { symbol, meaning, unit, formula, source, numeric } = reading?.values ?? {};
  if (!reading || !checkName(entry, collector) || !symbol || !meaning || !unit || !formula) return undefined;
  return withoutUndefined({
    name: entry.key,
    namePlace: entry.keyPlace,
    symbol,
    symbolPlace: reading.places.get('symbol')!,
    meaning,
    unit,
    unitPlace: reading.places.get('unit')!,
    formula,
    formulaPlace: reading.places.get('formula')!,
    source,
    numeric,
  });
}

export const OWN_CHECK = {
  criterion: required(text, 'the lead takes no more than the margin'),
  value: required(text, 'lead_voltage'),
  relation: required(option(['<=', '>=', '<', '>']), "'<='"),
  limit: required(text, 'permitted_voltage'),
  force: optional(option(['requirement', 'recommendation'])),
  source: optional(text),
  remedies: optional(texts),
};

function readCheck(entry: MapEntry, collector: Collector): OwnCheck | undefined {
  const reading = readRecord(entry.value, OWN_CHECK, describe(entry, 'the check'), collector);
  const { criterion, value, relation, limit, force, source, remedies } = reading?.values ?? {};
  if (!reading || !checkName(entry, collector) || !criterion || !value || !relation || !limit)
    return undefined;
  return withoutUndefined({
    name: entry.key,
    namePlace: entry.keyPlace,
    criterion,
    value,
    valuePlace: reading.places.get('value')!,
    relation,
    limit,
    limitPlace: reading.places.get('limit')!,
    force: force ?? 'requirement',
    source,
    remedies: remedies ?? [],
    remediesPlace: reading.places.get('remedies'),
  });
}

function describe(entry: MapEntry, what: string): { where: string; place: Place } {
  return { where: `${what} '${entry.key}'`, place: entry.keyPlace };
}

function named<T>(read: (entry: MapEntry, collector: Collector) => T | undefined): Read<readonly T[]> {
  return (node, key, collector) =>
    namedEntries(node, key, collector)
      ?.filter((entry) => !isEmpty(entry, collector))
      .map((entry) => read(entry, collector))
      .filter((item) => item !== undefined);
}

export const FORMULA = {
  id: required(blockId, 'lead-voltage'),
  title: optional(text),
  case: optional(blockCase),
  purpose: optional(text),
  given: optional(named(readGiven)),
  steps: required(named(readStep)),
  checks: optional(named(readCheck)),
  accept: optional(accept),
  action: optional(action),
};

/** Reads a `yaml formula` block, the engineer's own calculation; `place` is the opening fence. */
export function readFormulaBlock(
  node: SourceNode,
  place: Place,
  collector: Collector,
): FormulaBlock | undefined {
  const base = node.type === 'map' ? node.entries.find(({ key }) => key === 'based_on') : undefined;
  if (base) {
    collector.error('formula-on-base', base.keyPlace, {});
    return undefined;
  }
  const reading = readRecord(node, FORMULA, { where: 'the formula block', place }, collector);
  const { id, title, case: ofCase, purpose, given, steps, checks, accept, action } = reading?.values ?? {};
  if (!reading || !id) return undefined;
  return withoutUndefined({
    kind: 'formula' as const,
    id,
    idPlace: reading.places.get('id')!,
    title,
    case: ofCase,
    place,
    accepted: accept ?? [],
    action,
    purpose,
    given: given ?? [],
    steps: steps ?? [],
    checks: checks ?? [],
  });
}
