import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { Acceptance, CalcBlock } from './note-source.ts';
import { action } from './read-action.ts';
import { BASE_SHAPE, isOnBase, ON_BASE_SHAPE, readBase } from './read-base.ts';
import { blockCase } from './read-case.ts';
import { blockId } from './read-names.ts';
import { listOf, optional, type Read, readRecord, required, text } from './read-shape.ts';
import { givens } from './read-value.ts';
import type { SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';
import { writtenNames } from './written-names.ts';

export const ACCEPTANCE = {
  caution: required(text),
  by: required(text),
  reason: required(text),
};

const acceptance: Read<Acceptance> = (node, _, collector) => {
  const reading = readRecord(node, ACCEPTANCE, { where: 'an acceptance' }, collector);
  const { caution, by, reason } = reading?.values ?? {};
  if (!caution || !by || !reason) return undefined;
  return { caution, by, reason, place: reading?.places.get('caution') ?? node.place };
};

/** Cautions that the author accepts; a key of every kind of calculation block. */
export const accept = listOf(acceptance, 'accept: [{ caution: ..., by: ..., reason: ... }]');

export const CALC = {
  id: required(blockId, 'main-board'),
  calculation: required(text, 'arrester-connection'),
  ...BASE_SHAPE,
  title: optional(text),
  case: optional(blockCase),
  givens_from: optional(writtenNames),
  given: optional(givens),
  accept: optional(accept),
  action: optional(action),
};

/** On a base the calculation is that of the base. */
export const CALC_ON_BASE = { ...CALC, ...ON_BASE_SHAPE, calculation: optional(text) };

export const CALC_KEYS: readonly string[] = Object.keys(CALC_ON_BASE);

/** Reads a `yaml calc` block; `place` is the opening fence. */
export function readCalcBlock(node: SourceNode, place: Place, collector: Collector): CalcBlock | undefined {
  const shape = isOnBase(node) ? CALC_ON_BASE : CALC;
  const reading = readRecord(node, shape, { where: 'the calculation block', place }, collector);
  const { id, calculation, title, case: ofCase, givens_from, given, accept, action } = reading?.values ?? {};
  const base = reading && readBase(reading, collector);
  if (!reading || !id || !base || (!calculation && !base.basedOn)) return undefined;
  return withoutUndefined({
    kind: 'calc' as const,
    id,
    idPlace: reading.places.get('id')!,
    title,
    case: ofCase,
    ...base,
    place,
    accepted: accept ?? [],
    calculation: calculation ?? '',
    calculationPlace: reading.places.get('calculation') ?? reading.places.get('based_on')!,
    givensFrom: givens_from,
    given: given ?? [],
    action,
  });
}
