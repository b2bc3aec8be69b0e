import { type Problem, problem, type Reading } from '../../diagnostics/problem.ts';
import { compareValues } from '../../formula/compare-values.ts';
import { nameDimension, sameDimension } from '../../quantity/dimension.ts';
import { displayEntered } from '../../quantity/display.ts';
import { isWithinNumbers, type Quantity } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { clash, describeVoltageKind, writeConversion } from '../../quantity/voltage-kind.ts';
import { type Sentence, say } from '../../words/sentence.ts';
import type { ListGiven, QuantityGiven, ValueRange } from './definition.ts';
import { siOf } from './si-of.ts';

type QuantityLike = QuantityGiven | ListGiven;

/** Reads the text of one given, as an author wrote it, and judges it: dimension, kind of voltage, permitted range. */
export function readGivenText(
  name: string,
  given: QuantityLike,
  unit: Unit,
  text: string,
  inFormula?: string,
): Reading<Quantity> {
  const reading = readQuantity(text);
  if (!reading.ok) return withExample(reading.problem, given);
  const fault = judgeQuantity(name, given, unit, reading.value, text.trim(), inFormula);
  return fault ? { ok: false, problem: fault } : reading;
}

/**
 * Judges a quantity that is to serve as a given; `text` is what the author wrote for it, `inFormula` how a formula would name it:
 * '{grid.voltage}'.
 */
export function judgeQuantity(
  name: string,
  given: QuantityLike,
  unit: Unit,
  quantity: Quantity,
  text: string,
  inFormula?: string,
): Problem | undefined {
  if (!sameDimension(quantity.unit.dimension, unit.dimension)) {
    if (quantity.unit.text === '1') return problem('missing-unit', { text, example: `${text} ${unit.text}` });
    return problem('wrong-dimension', {
      name,
      expected: nameDimension(unit.dimension),
      text,
      actual: nameDimension(quantity.unit.dimension),
      example: exampleOf(given),
    });
  }
  if (!isWithinNumbers(quantity.si, unit)) return problem('number-out-of-range', { text });
  if (quantity.kind && given.voltage && clash(quantity.kind, given.voltage)) {
    return problem('wrong-voltage-kind', {
      name,
      expected: describeVoltageKind(given.voltage),
      text,
      actual: describeVoltageKind(quantity.kind),
      conversion: writeConversion(inFormula ?? displayEntered(quantity).text, quantity.kind, given.voltage),
    });
  }
  if (given.whole && !Number.isInteger(quantity.si)) return problem('not-whole', { name, text });
  const broken = given.permitted ? outside(quantity.si, given.permitted) : undefined;
  if (broken) return problem('outside-permitted', { name, text, permitted: sayRange(given.permitted!) });
  return undefined;
}

/** Whether an SI value lies outside a range. */
export function outside(si: number, range: ValueRange): boolean {
  const { from, to, above, below } = range;
  return (
    (from !== undefined && compareValues(si, '<', siOf(from)!)) ||
    (to !== undefined && compareValues(si, '>', siOf(to)!)) ||
    (above !== undefined && compareValues(si, '<=', siOf(above)!)) ||
    (below !== undefined && compareValues(si, '>=', siOf(below)!))
  );
}

/** A range as it is said: 'from 0.1 m to 5 m', 'above 0 m'. */
export function sayRange({ from, above, to, below }: ValueRange): Sentence {
  return say('usual.range', {
    ...(from === undefined ? {} : { from }),
    ...(above === undefined ? {} : { above }),
    ...(to === undefined ? {} : { to }),
    ...(below === undefined ? {} : { below }),
  });
}

/** A usual range as it is said: 'from 0.05 m to 10 m, or none'. */
export function sayUsual(usual: NonNullable<QuantityGiven['usual']>): Sentence {
  const range = sayRange(usual);
  return usual.orNone ? say('usual.range-or-none', { range }) : range;
}

/** A value that a message can show as an example. */
function exampleOf(given: QuantityLike): string {
  if ('default' in given && given.default) return given.default.value;
  if ('typical' in given && given.typical?.[0]) return given.typical[0].value;
  return given.unit === '1' ? '0.5' : `10 ${given.unit}`;
}

function withExample(fault: Problem, given: QuantityLike): Reading<never> {
  if (fault.code !== 'not-a-quantity') return { ok: false, problem: fault };
  return {
    ok: false,
    problem: problem('not-a-quantity', { ...fault.data, example: exampleOf(given) }, fault.span),
  };
}
