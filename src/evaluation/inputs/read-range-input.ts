import type { Place } from '../../diagnostics/place.ts';
import { problem } from '../../diagnostics/problem.ts';
import type { CompiledGiven } from '../../engine/definition/compiled.ts';
import type { QuantityGiven } from '../../engine/definition/definition.ts';
import { judgeQuantity } from '../../engine/definition/read-given.ts';
import { displayEntered } from '../../quantity/display.ts';
import { type Quantity, quantity, quantityFromSi } from '../../quantity/quantity.ts';
import type { GivenSource } from '../../source/note-source.ts';
import type { InputContext } from './input-context.ts';
import { type QuantityPart, readQuantityInput } from './read-quantity-input.ts';

interface Bounds {
  readonly low: Quantity;
  readonly high: Quantity;
}

/** The range of a given, from `range` or from `plus_minus` about its value. Undefined where it is at fault. */
export function readRangeInput(
  context: InputContext,
  compiled: CompiledGiven,
  source: GivenSource,
  nominal: Quantity,
): Bounds | undefined {
  const { name, unit } = compiled;
  const part = { name, unit, definition: compiled.definition as QuantityGiven, isBound: true } as const;
  if (source.plusMinus) {
    const free = { ...part, definition: withoutLimits(part.definition) };
    const margin = readQuantityInput(context, free, source.plusMinus)?.value.quantity;
    return margin && judgeBounds(context, part, nominal, around(nominal, margin), source.plusMinus.place);
  }
  const range = source.range!;
  const low = readQuantityInput(context, part, range.low)?.value.quantity;
  const high = readQuantityInput(context, part, range.high)?.value.quantity;
  return low && high && judgeBounds(context, part, nominal, { low, high }, range.place);
}

function around(nominal: Quantity, margin: Quantity): Bounds {
  const size = Math.abs(margin.si);
  return {
    low: withoutNoise(quantityFromSi(nominal.si - size, nominal.unit)),
    high: withoutNoise(quantityFromSi(nominal.si + size, nominal.unit)),
  };
}

function judgeBounds(
  context: InputContext,
  { name, definition, unit }: QuantityPart,
  nominal: Quantity,
  bounds: Bounds,
  place: Place,
): Bounds | undefined {
  const { low, high } = bounds;
  const texts = { low: displayEntered(low).text, high: displayEntered(high).text };
  if (low.si > high.si) return context.fail(problem('range-order', texts), place);
  for (const end of [low, high]) {
    const fault = judgeQuantity(name, definition, unit, end, displayEntered(end).text);
    if (fault) return context.fail(fault, place);
  }
  if (nominal.si >= low.si && nominal.si <= high.si) return bounds;
  const { text } = displayEntered(nominal);
  return context.fail(problem('outside-range', { name, text, ...texts }), place);
}

/** 0.3 m less 0.1 m is 0.2 m, not 0.19999999999999998 m: the last bits of a difference say nothing. */
function withoutNoise({ value, unit }: Quantity): Quantity {
  return quantity(Number(value.toPrecision(14)), unit);
}

/** The margin of `plus_minus` has the unit of its given, but neither its permitted range nor a kind of its own. */
function withoutLimits(definition: QuantityGiven): QuantityGiven {
  const { permitted: _permitted, usual: _usual, whole: _whole, ...rest } = definition;
  return rest;
}
