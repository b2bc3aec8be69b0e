import type { Place } from '../../diagnostics/place.ts';
import { problem, type Reading } from '../../diagnostics/problem.ts';
import { evaluateFormula } from '../../formula/evaluate-formula.ts';
import type { Formula, FormulaValue, SymbolInfo, SymbolTable } from '../../formula/formula.ts';
import { inferDimension } from '../../formula/infer-dimension.ts';
import { inferKind } from '../../formula/infer-kind.ts';
import { parseFormula } from '../../formula/parse-formula.ts';
import { nameDimension, sameDimension } from '../../quantity/dimension.ts';
import { type KindTerm, kindTerm, knownKind } from '../../quantity/kind-term.ts';
import { type Quantity, quantityFromSi } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { VoltageKind } from '../../quantity/voltage-kind.ts';
import { type InputContext, wrongTarget } from './input-context.ts';

interface FormulaQuantity {
  readonly quantity: Quantity;
  readonly symbols: SymbolTable;
}

/** A `!formula`: names in braces are references; the result is counted in the given's unit. Undefined where it is at fault. */
export function evaluateGivenFormula(
  context: InputContext,
  text: string,
  unit: Unit,
  place: Place,
): FormulaQuantity | undefined {
  const parsed = parseFormula(text);
  if (!parsed.ok) return context.fail(parsed.problem, place, text.length);
  const formula = parsed.value;
  const symbols = new Map<string, SymbolInfo>();
  const values = new Map<string, FormulaValue>();
  const stated = new Map<string, KindTerm>();
  for (const name of formula.names) {
    const found = quantityOf(context, name, place);
    if (!found) return undefined;
    stated.set(name, kindTerm(found.kind));
    symbols.set(name, { type: 'number', tex: name, dimension: found.unit.dimension });
    values.set(name, found.si);
  }
  const dimension = inferDimension(formula, symbols);
  if (!dimension.ok) return context.fail(dimension.problem, place, text.length);
  if (!sameDimension(dimension.value, unit.dimension)) {
    const [actual, expected] = [nameDimension(dimension.value), nameDimension(unit.dimension)];
    return context.fail(
      problem('result-dimension', { formula: text, actual, expected, unit: unit.text }),
      place,
    );
  }
  const result = evaluateFormula(formula, values);
  if (!result.ok) return context.fail(result.problem, place, text.length);
  return { quantity: quantityFromSi(result.value, unit, kindStated(formula, symbols, stated)), symbols };
}

/** What the formula itself tells of its kind: it depends on no other use of its names. */
function kindStated(
  formula: Formula,
  symbols: SymbolTable,
  stated: ReadonlyMap<string, KindTerm>,
): VoltageKind | undefined {
  const own = inferKind(formula, symbols, stated);
  return own.ok && own.term ? knownKind(own.term) : undefined;
}

function quantityOf(context: InputContext, target: string, place: Place): Quantity | undefined {
  const found = context.resolve(target, place);
  if (!found) return undefined;
  if (found.type === 'quantity') return found.quantity;
  const reading: Reading<Quantity> =
    found.type === 'text'
      ? readQuantity(found.text)
      : { ok: false, problem: wrongTarget(target, found, 'one quantity') };
  return reading.ok ? reading.value : context.fail(reading.problem, place);
}
