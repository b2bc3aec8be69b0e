import { compareValues, RELATIVE_EQUALITY } from '../../formula/compare-values.ts';
import type { Formula, FormulaValue, FormulaValues } from '../../formula/formula.ts';
import {
  type QuickCondition,
  type QuickValue,
  quickCondition,
  quickValue,
} from '../../formula/quick-formula.ts';
import { isWithinNumbers, toSi } from '../../quantity/quantity.ts';
import type {
  CompiledCalculation,
  CompiledCandidate,
  CompiledCheck,
  CompiledStep,
  CompiledValidity,
  CompiledVariant,
} from './compiled.ts';
import { type Computation, decide } from './computation.ts';
import { computeStep, copyComputation } from './compute.ts';
import { competes } from './judge-check.ts';
import { marginOf } from './margin.ts';
import { needed } from './plan-step.ts';
import { type ScanTrends, trendsOfScan } from './scan-trends.ts';
import { stepsRestingOn } from './steps-resting-on.ts';
import type { WorkTools } from './work-step.ts';

/** A step that is worked at every value of a scan. */
interface ScannedStep {
  readonly step: CompiledStep;
  /** Undefined where it is worked as anywhere else. */
  readonly quick: QuickStep | undefined;
  /** Names in its conditions that have no value yet where it is worked: its own, and those of steps behind it. */
  readonly later: readonly string[];
}

/** A formula step whose conditions are functions: of those that do not rest on the given it is known what they came to. */
interface QuickStep {
  readonly when: Decision;
  readonly words: readonly QuickCondition[];
  readonly variants: readonly {
    readonly variant: CompiledVariant;
    readonly when: Decision;
    readonly value: QuickValue;
    /** The names in it that may turn out absent. */
    readonly names: readonly string[];
  }[];
}

/** What a condition comes to at every value, or how to find that out. */
type Decision = boolean | QuickCondition;

/** What a check comes to at a value; undefined where a short cut cannot tell. */
export type QuickVerdict =
  | { readonly met: boolean; readonly margin: number; readonly asked: true }
  | undefined;

interface QuickCheck {
  readonly verdict: () => QuickVerdict;
  /** How far it is from turning: below nought where it is not met. */
  readonly reserve: () => number | undefined;
}

const NO_CHECK: QuickCheck = { verdict: () => undefined, reserve: () => undefined };

/**
 * Goes through many values of one given, all else as at a point where nothing was at fault. What does not rest on that given is not
 * worked again: neither steps, nor conditions, nor which formula applies. Wherever something else comes up than at the point - a value
 * beyond numbers, an absent one, words - the step is worked as anywhere else.
 *
 * **Invariant:** the values are those of `compute` at each point (`test/engine/definition/run-in-short.test.ts`).
 */
export class Scan {
  /** Of the value asked for last. */
  readonly state: Computation;
  readonly #calculation: CompiledCalculation;
  readonly #given: string;
  readonly #tools: WorkTools;
  readonly #changed: ReadonlySet<string>;
  readonly #resting: readonly CompiledStep[];
  readonly #steps: readonly ScannedStep[];
  readonly #checks = new Map<CompiledCheck, QuickCheck>();

  /** @param start computed without faults; the scan works on a copy */
  constructor(calculation: CompiledCalculation, given: string, start: Computation, tools: WorkTools) {
    this.#calculation = calculation;
    this.#given = given;
    this.#tools = tools;
    this.state = copyComputation(start);
    this.#resting = stepsRestingOn(calculation, [given]).filter(({ name }) => !start.givens.has(name));
    this.#changed = new Set([given, ...this.#resting.map(({ name }) => name)]);
    this.#steps = this.#resting.flatMap((step) => this.#plan(step) ?? []);
  }

  /** Brings the state to a value. */
  moveTo(si: number): Computation {
    const { state } = this;
    state.faults.length = 0;
    state.solutions.clear();
    (state.givens as Map<string, FormulaValue>).set(this.#given, si);
    state.values.set(this.#given, si);
    for (const scanned of this.#steps) this.#work(scanned);
    return state;
  }

  /** Of limits of validity those that can be broken by the given; the others hold as they did at the point. */
  limitsAtStake(limits: readonly CompiledValidity[]): CompiledValidity[] {
    return limits.filter(({ condition, over }) => over !== undefined || this.#restsOnGiven(condition));
  }

  /** How the verdicts on checks and limits go over a stretch of the given; undefined where that cannot be told. */
  trendsOver(
    stretch: readonly [low: number, high: number],
    checks: readonly CompiledCheck[],
    limits: readonly CompiledValidity[],
  ): ScanTrends | undefined {
    if (this.#steps.some(({ later }) => later.length > 0)) return undefined;
    const start = { given: this.#given, state: this.state, changed: this.#changed, steps: this.#resting };
    return trendsOfScan(start, stretch, checks, limits);
  }

  /** The verdict on a check at the value asked for last. */
  verdictOn(check: CompiledCheck): QuickVerdict {
    return this.#quickCheckOf(check).verdict();
  }

  /** How far a check is from turning at the value asked for last; undefined where a short cut cannot tell. */
  reserveOf(check: CompiledCheck): number | undefined {
    return this.#quickCheckOf(check).reserve();
  }

  #quickCheckOf(check: CompiledCheck): QuickCheck {
    const known = this.#checks.get(check);
    if (known) return known;
    const found = this.#quickCheck(check);
    this.#checks.set(check, found);
    return found;
  }

  /** Whether a value competes at no value of the given: its condition fails, or it rests on a step that is left out at every one. */
  #isLeftOut(check: CompiledCheck, candidate: CompiledCandidate): boolean {
    const { when, value, limit } = candidate;
    if (when && !decide(when, this.state, check.name)) return true;
    const absent = [...value.names, ...limit.names].filter((name) => !this.state.values.has(name));
    return (
      absent.some((name) => !this.#changed.has(name)) &&
      !competes(this.#calculation, check, candidate, this.state)
    );
  }

  #restsOnGiven({ names }: Formula): boolean {
    return names.some((name) => this.#changed.has(name));
  }

  /** Undefined for a step that applies at no value. */
  #plan(step: CompiledStep): ScannedStep | undefined {
    const { name, work, when, words, over } = step;
    const variants = work.kind === 'formula' ? work.variants : [];
    const later = this.#laterNames(step);
    const asAnywhere = { step, quick: undefined, later };
    if (work.kind !== 'formula' || over !== undefined || later.length > 0) return asAnywhere;
    const applies = this.#decide(when);
    // A condition that cannot be decided is no reason to leave the step out: it is asked again at each value.
    if (applies === false && !this.state.values.has(name) && !this.state.words.has(name)) return undefined;
    const quick: QuickStep = {
      when: applies,
      words: words.map((one) => quickCondition(one.when)),
      variants: variants.map((variant) => ({
        variant,
        when: this.#decide(variant.when),
        value: quickValue(variant.formula, variant.numeric),
        names: needed(step, variant).filter((one) => this.#changed.has(one)),
      })),
    };
    return { step, quick, later };
  }

  #decide(condition: Formula | undefined): Decision {
    if (!condition) return true;
    const decision = quickCondition(condition);
    return this.#restsOnGiven(condition) ? decision : (decision(this.state.values) ?? decision);
  }

  #laterNames(step: CompiledStep): readonly string[] {
    const names = namesBehind(this.#calculation, step);
    return names.length === 0 ? names : names.filter((name) => !this.state.givens.has(name));
  }

  #work(scanned: ScannedStep): void {
    const { state } = this;
    const { step, quick, later } = scanned;
    if (quick && this.#workQuickly(step, quick)) return;
    const { name } = step;
    state.values.delete(name);
    state.words.delete(name);
    state.variants.delete(name);
    const hidden = later.flatMap((one) =>
      state.values.has(one) ? [[one, state.values.get(one)!] as const] : [],
    );
    for (const [one] of hidden) state.values.delete(one);
    computeStep(this.#calculation, step, state, this.#tools);
    for (const [one, value] of hidden) if (one !== name) state.values.set(one, value);
  }

  /** False where anything but a sound number comes of it: then the step is worked as anywhere else. */
  #workQuickly({ name, unit }: CompiledStep, { when, words, variants }: QuickStep): boolean {
    const { values, words: said, variants: used } = this.state;
    if (!holds(when, values) || words.some((one) => one(values) !== false)) return false;
    for (const { variant, when: applies, value: quick, names } of variants) {
      const chosen = typeof applies === 'boolean' ? applies : applies(values);
      if (chosen === undefined) return false;
      if (!chosen) continue;
      if (!names.every((one) => values.has(one))) return false;
      const found = quick(values);
      const value = variant.numeric ? toSi(found, unit) : found;
      if (Number.isNaN(value) || !isWithinNumbers(value, unit)) return false;
      if (said.size > 0) said.delete(name);
      if (used.get(name) !== variant) used.set(name, variant);
      values.set(name, value);
      return true;
    }
    return false;
  }

  #quickCheck(check: CompiledCheck): QuickCheck {
    const { when, candidates, definition } = check;
    const conditions = [when, ...candidates.map((one) => one.when)];
    const isFixed = conditions.every((condition) => !condition || !this.#restsOnGiven(condition));
    if (!isFixed || (when && !decide(when, this.state, check.name))) return NO_CHECK;
    const competing = candidates.filter((one, i) => i === 0 || !this.#isLeftOut(check, one));
    if (this.state.faults.splice(0).length > 0) return NO_CHECK;
    const names = [
      ...(definition.needs ?? []),
      ...competing.flatMap(({ value, limit }) => [...value.names, ...limit.names]),
    ];
    const sides = competing.map(
      ({ value, limit }) => [quickValue(value, undefined), quickValue(limit, undefined)] as const,
    );
    const { relation } = definition;
    const verdict = (): QuickVerdict => {
      const { values } = this.state;
      if (!names.every((name) => values.has(name))) return undefined;
      let worst: number | undefined;
      for (const [ofValue, ofLimit] of sides) {
        const [value, limit] = [ofValue(values), ofLimit(values)];
        if (!isSound(value, check) || !isSound(limit, check)) return undefined;
        if (compareValues(value, relation, limit)) continue;
        const margin = marginOf(value, relation, limit).value;
        if (worst === undefined || margin < worst) worst = margin;
      }
      return worst === undefined ? MET : { met: false, margin: worst, asked: true };
    };
    const reserve = (): number => {
      const { values } = this.state;
      const reserves = sides.map(([value, limit]) => reserveOf(value(values), relation, limit(values)));
      return Math.min(...reserves);
    };
    return { verdict, reserve };
  }
}

const BEHIND = new WeakMap<CompiledStep, readonly string[]>();

/** The names in the conditions of a step that are its own, or those of steps behind it. */
function namesBehind({ steps }: CompiledCalculation, step: CompiledStep): readonly string[] {
  const known = BEHIND.get(step);
  if (known) return known;
  const { when, words, work } = step;
  const variants = work.kind === 'formula' ? work.variants : [];
  const conditions = [when, ...words.map((one) => one.when), ...variants.map((one) => one.when)];
  const behind = new Set(steps.slice(steps.indexOf(step)).map(({ name }) => name));
  const names = conditions.flatMap((condition) => condition?.names ?? []).filter((name) => behind.has(name));
  BEHIND.set(step, names);
  return names;
}

function holds(decision: Decision, values: FormulaValues): boolean {
  return typeof decision === 'boolean' ? decision : decision(values) === true;
}

/** The margin with what counts as equal: a comparison turns where it is nought. */
function reserveOf(value: number, relation: CompiledCheck['definition']['relation'], limit: number): number {
  const size = limit === 0 ? 1 : Math.abs(limit);
  const equal = (RELATIVE_EQUALITY * Math.max(Math.abs(value), Math.abs(limit))) / size;
  return marginOf(value, relation, limit).value + (relation === '<=' || relation === '>=' ? equal : -equal);
}

const MET = { met: true, margin: Number.POSITIVE_INFINITY, asked: true } as const;

function isSound(value: number, { unit }: CompiledCheck): boolean {
  return !Number.isNaN(value) && isWithinNumbers(value, unit);
}
