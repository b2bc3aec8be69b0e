import type { Formula } from '../../formula/formula.ts';
import { compareTrends, rising, type Slope, type Trend, together, trend } from '../../formula/trend.ts';
import { type TrendScope, trendOfCondition, trendOfFormula } from '../../formula/trend-of-formula.ts';
import { isWithinNumbers, toSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type {
  CompiledCandidate,
  CompiledCheck,
  CompiledStep,
  CompiledValidity,
  CompiledVariant,
} from './compiled.ts';
import type { Computation } from './computation.ts';

/** For each check, and each limit of validity by its name: whether it turns to met (1), to not met (-1) or not at all (0). */
export interface ScanTrends {
  readonly checks: ReadonlyMap<CompiledCheck, Slope>;
  readonly limits: ReadonlyMap<string, Slope>;
}

/** What a scan knows before it looks at a value. */
export interface ScanStart {
  readonly given: string;
  /** The point from which it starts; of what does not rest on the given it holds at every value. */
  readonly state: Computation;
  /** The given, and what rests on it. */
  readonly changed: ReadonlySet<string>;
  /** Those that may have another value, in the order in which they are worked. */
  readonly steps: readonly CompiledStep[];
}

/**
 * How the verdicts go while a given rises from `low` to `high`. Undefined where that cannot be told: where anything may be at fault, or
 * turn twice.
 */
export function trendsOfScan(
  start: ScanStart,
  [low, high]: readonly [number, number],
  checks: readonly CompiledCheck[],
  limits: readonly CompiledValidity[],
): ScanTrends | undefined {
  const scope = new ScanScope(start);
  const stretch = trend(low, high, 1);
  if (!stretch) return undefined;
  scope.set(start.given, { number: stretch, otherwise: undefined });
  for (const step of start.steps) {
    const found = followStep(step, scope);
    if (!found) return undefined;
    scope.set(step.name, found);
  }
  const found = { checks: new Map<CompiledCheck, Slope>(), limits: new Map<string, Slope>() };
  for (const limit of limits) {
    const slope = slopeOfLimit(limit, scope);
    if (slope === undefined || Number.isNaN(slope)) return undefined;
    found.limits.set(limit.id, slope);
  }
  for (const check of checks) {
    const slope = slopeOfCheck(check, scope);
    if (slope === undefined || Number.isNaN(slope)) return undefined;
    found.checks.set(check, slope);
  }
  return found;
}

/** The values of a scan over its whole stretch. */
class ScanScope implements TrendScope {
  readonly #state: Computation;
  readonly #changed: ReadonlySet<string>;
  readonly #trends = new Map<string, Trend>();
  /** Steps with words in place of a number, and steps whose condition leaves them out, at every value. */
  readonly #spoken = new Set<string>();
  readonly #leftOut = new Set<string>();
  /** Steps that have a number at some values only. */
  readonly #sometimes = new Set<string>();

  constructor({ state, changed }: ScanStart) {
    this.#state = state;
    this.#changed = changed;
  }

  trendOf(name: string): Trend | undefined {
    if (this.#changed.has(name)) return this.#trends.get(name);
    const value = this.#state.values.get(name);
    return typeof value === 'number' ? trend(value, value, 0) : undefined;
  }

  optionOf(name: string): string | undefined {
    const value = this.#changed.has(name) ? undefined : this.#state.values.get(name);
    return typeof value === 'string' ? value : undefined;
  }

  has(name: string): boolean | undefined {
    if (!this.#changed.has(name)) return this.#state.values.has(name);
    return this.#sometimes.has(name) ? undefined : this.#trends.has(name);
  }

  /** As `has`, and of a table, whose columns are what has values. */
  isPresent(name: string): boolean | undefined {
    const isTable = () => [...this.#state.values.keys()].some((key) => key.startsWith(`${name}.`));
    const has = this.has(name);
    return has === false && !this.#changed.has(name) ? isTable() : has;
  }

  isSpoken(name: string): boolean {
    return this.#changed.has(name) ? this.#spoken.has(name) : this.#state.words.has(name);
  }

  isLeftOut(name: string): boolean {
    return this.#leftOut.has(name);
  }

  set(name: string, { number, otherwise }: StepTrend): void {
    if (number) {
      this.#trends.set(name, number);
      if (otherwise) this.#sometimes.add(name);
    } else if (otherwise === 'spoken') this.#spoken.add(name);
    else if (otherwise === 'left-out') this.#leftOut.add(name);
    else if (otherwise === 'either') this.#sometimes.add(name);
  }

  /**
   * Whether a condition holds: at every value the same, or at some and not at others ('varies'). Undefined where it may be at fault. One
   * that reads an absent value does not hold.
   */
  decide(condition: Formula | undefined): boolean | 'varies' | undefined {
    if (!condition) return true;
    const truth = trendOfCondition(condition)(this);
    if (!truth) return undefined;
    if (truth.always !== false && this.lacksSometimes(condition.names)) return 'varies';
    return truth.always ?? 'varies';
  }

  lacksSometimes(names: readonly string[]): boolean {
    return this.#sometimes.size > 0 && names.some((name) => this.#sometimes.has(name));
  }
}

/** What a step has over the stretch: a number, or something else, or the one here and the other there. */
interface StepTrend {
  readonly number: Trend | undefined;
  readonly otherwise: Otherwise | undefined;
}

type Otherwise = 'spoken' | 'left-out' | 'without' | 'either';

/** Follows what `planStep` and `workStep` do at every value. Undefined where anything may be at fault, or it cannot be told. */
function followStep(step: CompiledStep, scope: ScanScope): StepTrend | undefined {
  const { work, when, words, over } = step;
  if (work.kind !== 'formula' || over !== undefined) return undefined;
  const applies = scope.decide(when);
  if (applies === undefined) return undefined;
  if (applies === false) return { number: undefined, otherwise: 'left-out' };
  const outcomes = new Outcomes();
  if (applies === 'varies') outcomes.add('left-out');
  for (const one of words) {
    if (one.when.names.some((needed) => scope.has(needed) === false)) continue;
    const says = scope.decide(one.when);
    if (says === undefined) return undefined;
    if (says !== false) outcomes.add('spoken');
    if (says === true) return outcomes.all();
  }
  for (const variant of work.variants) {
    const holds = scope.decide(variant.when);
    if (holds === undefined) return undefined;
    if (holds === false) continue;
    const found = followVariant(step, variant, scope);
    if (!found) return undefined;
    outcomes.add(found);
    if (holds === true) return outcomes.all();
  }
  // Where no formula applies there is no value, or the words of what its condition lacks.
  outcomes.add(
    work.variants.some(({ when: chosen }) => chosen && scope.lacksSometimes(chosen.names))
      ? 'either'
      : 'without',
  );
  return outcomes.all();
}

function followVariant(
  { definition, unit }: CompiledStep,
  { formula, numeric }: CompiledVariant,
  scope: ScanScope,
): Trend | Otherwise | undefined {
  if (formula.names.some((needed) => scope.isSpoken(needed))) return 'spoken';
  const lacks = formula.names.some((needed) => scope.isPresent(needed) === false);
  // What a step that may be left out lacks leaves it without a value; of any other it is a fault.
  if (lacks || scope.lacksSometimes(formula.names)) return definition.optional ? 'either' : undefined;
  const found = trendOfFormula(formula, numeric)(scope);
  const value = found && numeric ? rising((number) => toSi(number, unit), found) : found;
  return value && isSound(value, unit) ? value : undefined;
}

/** What comes of a step here or there. */
class Outcomes {
  #number: Trend | undefined;
  #otherwise: Otherwise | undefined;

  add(found: Trend | Otherwise): void {
    if (typeof found === 'string') {
      this.#otherwise = this.#otherwise === undefined || this.#otherwise === found ? found : 'either';
      return;
    }
    this.#number = this.#number ? hull(this.#number, found) : found;
  }

  all(): StepTrend {
    return { number: this.#number, otherwise: this.#otherwise };
  }
}

/** What holds of two trends, of which now the one applies and now the other. */
function hull(a: Trend, b: Trend): Trend {
  return { low: Math.min(a.low, b.low), high: Math.max(a.high, b.high), slope: Number.NaN };
}

function isSound({ low, high }: Trend, unit: Unit): boolean {
  return isWithinNumbers(low, unit) && isWithinNumbers(high, unit);
}

/** A limit that reads an absent value is not broken. */
function slopeOfLimit({ condition, over }: CompiledValidity, scope: ScanScope): Slope | undefined {
  const truth = over === undefined ? trendOfCondition(condition)(scope) : undefined;
  if (!truth || truth.always === true) return truth && 0;
  return scope.lacksSometimes(condition.names) ? undefined : truth.slope;
}

function slopeOfCheck(check: CompiledCheck, scope: ScanScope): Slope | undefined {
  const { when, candidates, definition } = check;
  const isAsked = scope.decide(when);
  if (isAsked === undefined || isAsked === 'varies') return undefined;
  if (!isAsked) return 0;
  if (definition.needs?.some((name) => scope.has(name) !== true)) return undefined;
  let slope: Slope = 0;
  for (const [i, candidate] of candidates.entries()) {
    const competes = i === 0 || candidateCompetes(candidate, scope);
    if (competes === undefined) return undefined;
    if (!competes) continue;
    if (scope.lacksSometimes([...candidate.value.names, ...candidate.limit.names])) return undefined;
    const value = trendOfFormula(candidate.value, undefined)(scope);
    const limit = trendOfFormula(candidate.limit, undefined)(scope);
    if (!value || !limit || !isSound(value, check.unit) || !isSound(limit, check.unit)) return undefined;
    const truth = compareTrends(value, definition.relation, limit);
    if (!truth) return undefined;
    slope = together(slope, truth.slope);
  }
  return slope;
}

/** Undefined where it cannot be told. */
function candidateCompetes({ when, value, limit }: CompiledCandidate, scope: ScanScope): boolean | undefined {
  const applies = scope.decide(when);
  if (applies === 'varies') return undefined;
  if (!applies) return applies;
  const absent = [...value.names, ...limit.names].filter((name) => scope.has(name) === false);
  if (absent.length === 0) return true;
  return absent.some((name) => scope.isLeftOut(name)) ? false : undefined;
}
