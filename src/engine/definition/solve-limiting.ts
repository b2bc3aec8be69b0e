import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { FormulaValue } from '../../formula/formula.ts';
import { displaySi, displayValue, USUAL_DIGITS } from '../../quantity/display.ts';
import { toSi } from '../../quantity/quantity.ts';
import { siOf } from './compile-definition.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import { type Computation, compute } from './compute.ts';
import type { LimitingDefinition } from './definition.ts';
import { isMet, judgeCheck } from './judge-check.ts';
import { outside } from './read-given.ts';
import { unitOf } from './show-step.ts';
import type { ResultValue } from './value.ts';

/**
 * The largest (or smallest) value of a given at which a check still complies, all else as it is. Bisection on the
 * verdict, which is taken to turn once between the ends; rounded to the safe side and judged again as printed.
 * Undefined where the check cannot be judged at all. Beyond the validity of the method nothing complies.
 */
export function solveLimiting(
  calculation: CompiledCalculation,
  limiting: LimitingDefinition,
  check: CompiledCheck,
  values: ReadonlyMap<string, FormulaValue>,
): ResultValue | undefined {
  const nominal = values.get(limiting.given);
  if (typeof nominal !== 'number') return undefined;
  const unit = unitOf(calculation, limiting.given);
  const complies = (si: number): boolean | undefined => {
    const state = compute(calculation, new Map(values).set(limiting.given, si));
    const usable = state.faults.length === 0 && isValid(calculation, state);
    const judgement = usable ? judgeCheck(calculation, check, state) : undefined;
    return judgement ? isMet(judgement.verdict) : undefined;
  };
  if (complies(nominal) === undefined) return undefined;
  const [low, high] = searchEnds(calculation, limiting.given, nominal);
  const [best, worst] = limiting.seek === 'largest' ? [low, high] : [high, low];
  const atBest = complies(best);
  // Where the method does not reach the favourable end, nothing is said of it.
  if (atBest === undefined) return undefined;
  if (!atBest) return { type: 'words', words: 'no value complies', unit };
  if (complies(worst)) return { type: 'words', words: 'any value complies', unit };
  const si = bisect(best, worst, (x) => complies(x) === true);
  const given = calculation.givens.get(limiting.given)?.definition;
  if (given?.type === 'quantity' && given.whole) return roundToWhole(si, unit, limiting.seek);
  return roundSafely(si, unit, limiting.seek, complies);
}

/** Whether the values keep within the limits whose breach is an error. */
function isValid(calculation: CompiledCalculation, state: Computation): boolean {
  return calculation.validity.every(({ otherwise, condition }) => {
    if (otherwise !== 'error') return true;
    const reading = evaluateCondition(condition, state.values);
    return !reading.ok || reading.value;
  });
}

/** Between which values to look: the permitted range, and where it is open a factor of a million beyond the given value. */
function searchEnds(calculation: CompiledCalculation, name: string, nominal: number): [number, number] {
  const given = calculation.givens.get(name)?.definition;
  const permitted = given?.type === 'quantity' ? given.permitted : undefined;
  const reach = Math.max(Math.abs(nominal), 1e-9);
  const from = permitted?.from ?? permitted?.above;
  const to = permitted?.to ?? permitted?.below;
  let low = from === undefined ? 0 : siOf(from)!;
  let high = to === undefined ? reach * 1e6 : siOf(to)!;
  // An end that is itself excluded is approached, not met.
  if (permitted && outside(low, permitted)) low += Math.min(reach, high - low) * 1e-9;
  if (permitted && outside(high, permitted)) high -= (high - low) * 1e-9;
  return [low, high];
}

function bisect(good: number, bad: number, complies: (x: number) => boolean): number {
  let [inside, beyond] = [good, bad];
  for (let i = 0; i < 200; i++) {
    const apart = Math.abs(beyond - inside);
    if (apart <= 1e-13 * Math.max(Math.abs(inside), Math.abs(beyond))) break;
    // Far apart in magnitude: halve the exponent, so that six decades take few steps.
    const middle =
      inside > 0 && beyond > 0 && Math.max(inside / beyond, beyond / inside) > 4
        ? Math.sqrt(inside * beyond)
        : (inside + beyond) / 2;
    if (complies(middle)) inside = middle;
    else beyond = middle;
  }
  return inside;
}

/** Whole numbers of whole things, to the safe side; what lies within rounding noise of one is that one. */
function roundToWhole(
  si: number,
  unit: ReturnType<typeof unitOf>,
  seek: 'largest' | 'smallest',
): ResultValue {
  const whole = seek === 'largest' ? Math.floor(si * (1 + 1e-9)) : Math.ceil(si * (1 - 1e-9));
  return { type: 'number', si: whole, unit, displayed: displaySi(whole, unit, { digits: 1 }) };
}

function roundSafely(
  si: number,
  unit: ReturnType<typeof unitOf>,
  seek: 'largest' | 'smallest',
  complies: (si: number) => boolean | undefined,
): ResultValue {
  const direction = seek === 'largest' ? 'down' : 'up';
  let displayed = displaySi(si, unit, { digits: USUAL_DIGITS, direction });
  // The nearest printed value complies too where the exact one lies within rounding noise of it.
  const nearest = displaySi(si, unit, { digits: USUAL_DIGITS });
  if (complies(toSi(nearest.value, unit))) displayed = nearest;
  else if (!complies(toSi(displayed.value, unit))) {
    const step = seek === 'largest' ? -displayed.lastDigit : displayed.lastDigit;
    displayed = displayValue(displayed.value + step, unit, { digits: USUAL_DIGITS });
  }
  return { type: 'number', si: toSi(displayed.value, unit), unit, displayed };
}
