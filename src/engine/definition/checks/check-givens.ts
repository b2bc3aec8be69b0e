import { nearestName } from '../../../diagnostics/nearest-name.ts';
import { type Problem, problem } from '../../../diagnostics/problem.ts';
import { nameDimension, sameDimension } from '../../../quantity/dimension.ts';
import { readQuantity } from '../../../quantity/read-quantity.ts';
import { readUnit, type Unit } from '../../../quantity/unit.ts';
import type { CompiledCalculation } from '../compiled.ts';
import type { ChoiceGiven, ListGiven, QuantityGiven, ValueRange } from '../definition.ts';
import type { DefinitionFault } from '../definition-fault.ts';
import { outside, readGivenText, sayRange } from '../read-given.ts';
import { siOf } from '../si-of.ts';

/** Defaults, typical values and ranges that do not fit their given. */
export function checkGivens({ definition }: CompiledCalculation): DefinitionFault[] {
  return Object.entries(definition.givens).flatMap(([name, given]) => {
    const where = `givens.${name}`;
    if (given.type === 'names') return [];
    if (given.type !== 'rows') return checkOne(where, name, given);
    return Object.entries(given.columns).flatMap(([column, inner]) =>
      inner.type === 'name' ? [] : checkOne(`${where}.columns.${column}`, column, inner),
    );
  });
}

function checkOne(
  where: string,
  name: string,
  given: QuantityGiven | ListGiven | ChoiceGiven,
): DefinitionFault[] {
  if (given.type === 'choice') return checkChoice(where, name, given);
  // A unit that cannot be read is a fault already, and nothing can be held against it.
  const unit = readUnit(given.unit);
  if (!unit.ok) return [];
  const ranges = (['permitted', 'usual'] as const).flatMap((kind) => {
    const range = given[kind];
    return range ? checkRange(`${where}.${kind}`, name, range, unit.value) : [];
  });
  // Values are held against ranges that are themselves in order.
  if (ranges.length > 0) return ranges;
  return [...checkUsual(where, given), ...checkValues(where, name, given, unit.value)];
}

function checkChoice(where: string, name: string, given: ChoiceGiven): DefinitionFault[] {
  const options = Object.keys(given.options);
  const text = given.default?.value;
  if (text === undefined || options.includes(text)) return [];
  const data = { name, text, nearest: nearestName(text, options), options };
  return [{ where: `${where}.default`, problem: problem('unknown-option', data) }];
}

function checkRange(where: string, name: string, range: ValueRange, unit: Unit): DefinitionFault[] {
  const faults = ([range.from, range.to, range.above, range.below] as const).flatMap((text) => {
    const fault = text === undefined ? undefined : faultOfEnd(name, text, unit);
    return fault ? [{ where, problem: fault }] : [];
  });
  if (faults.length > 0) return faults;
  const lower = siOfEnd(range.from ?? range.above);
  const upper = siOfEnd(range.to ?? range.below);
  if (lower === undefined || upper === undefined) return [];
  const isClosed = range.from !== undefined && range.to !== undefined;
  if (isClosed ? lower <= upper : lower < upper) return [];
  return [{ where, problem: problem('empty-range', { range: sayRange(range) }) }];
}

function faultOfEnd(name: string, text: string, unit: Unit): Problem | undefined {
  const reading = readQuantity(text);
  if (!reading.ok) return reading.problem;
  const actual = reading.value.unit.dimension;
  if (sameDimension(actual, unit.dimension)) return undefined;
  return problem('wrong-dimension', {
    name,
    expected: nameDimension(unit.dimension),
    text,
    actual: nameDimension(actual),
    example: `1 ${unit.text}`,
  });
}

/** What is usual and not permitted is a mistake in one of the two. An excluded end may be the end of what is usual. */
function checkUsual(where: string, { permitted, usual }: QuantityGiven | ListGiven): DefinitionFault[] {
  if (!permitted || !usual) return [];
  const { from = permitted.above, to = permitted.below } = permitted;
  const closed = { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) };
  const ends = [usual.from ?? usual.above, usual.to ?? usual.below].flatMap((text) => siOfEnd(text) ?? []);
  if (ends.every((si) => !outside(si, closed))) return [];
  const data = { usual: sayRange(usual), permitted: sayRange(permitted) };
  return [{ where: `${where}.usual`, problem: problem('usual-beyond-permitted', data) }];
}

function siOfEnd(text: string | undefined): number | undefined {
  return text === undefined ? undefined : siOf(text);
}

function checkValues(
  where: string,
  name: string,
  given: QuantityGiven | ListGiven,
  unit: Unit,
): DefinitionFault[] {
  if (given.type === 'list') return [];
  const values = [
    ...(given.default ? [[`${where}.default`, given.default.value] as const] : []),
    ...(given.typical ?? []).map(({ value }, i) => [`${where}.typical.${i}`, value] as const),
  ];
  return values.flatMap(([part, text]) => {
    const reading = readGivenText(name, given, unit, text);
    return reading.ok ? [] : [{ where: part, problem: reading.problem }];
  });
}
