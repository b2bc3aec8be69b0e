import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { FormulaValue } from '../../formula/formula.ts';
import type { CompiledCalculation, CompiledCheck, CompiledValidity } from './compiled.ts';
import type { Computation } from './computation.ts';
import { compute } from './compute.ts';
import type { Force } from './definition.ts';
import { judgeCheck } from './judge-check.ts';
import type { Spread } from './piece-task.ts';
import type { Point, PointJudgement } from './point-judgement.ts';
import { pointsOver } from './rows.ts';
import { Scan } from './scan.ts';
import type { ScanTrends } from './scan-trends.ts';

/** What was found at a value of a scan. */
export interface ScannedPoint {
  readonly faulty: boolean;
  /** The limit of validity that is broken. */
  readonly limit: string | undefined;
  judge(check: CompiledCheck): Pick<PointJudgement, 'met' | 'margin' | 'asked'>;
}

/** Goes through many values of one given, all else as at a point. */
export interface PointScan {
  /** The answer holds until the next value is asked for; no computation is kept. */
  at(si: number): ScannedPoint;
  /** How the verdicts on checks and limits of validity go over a stretch; undefined where that cannot be told. */
  trends(
    stretch: readonly [low: number, high: number],
    checks: readonly CompiledCheck[],
  ): ScanTrends | undefined;
  /** How far a check is from turning at the value asked for last: below nought where it is not met; undefined where there is no telling. */
  reserve(check: CompiledCheck): number | undefined;
}

/** Judges the checks of one calculation at other values of its givens; each point is computed once. */
export class PointJudge {
  readonly #calculation: CompiledCalculation;
  readonly #values: ReadonlyMap<string, FormulaValue>;
  readonly #spread: Spread;
  /** Limits of validity whose breach is an error. */
  readonly #strict: readonly CompiledValidity[];
  readonly #computed = new Map<string, Computation>();
  /** What was computed at the stated values, where that has no fault: other points rest on it. */
  readonly #stated: Computation | undefined;

  /** `stated`: what was computed of these values already. */
  constructor(
    calculation: CompiledCalculation,
    values: ReadonlyMap<string, FormulaValue>,
    spread: Spread,
    stated?: Computation,
  ) {
    this.#calculation = calculation;
    this.#values = values;
    this.#spread = spread;
    this.#strict = calculation.validity.filter(({ otherwise }) => otherwise === 'error');
    if (!stated) return;
    this.#computed.set('', stated);
    if (stated.faults.length === 0) this.#stated = stated;
  }

  /** Where an evaluation is slow: at so many points a check may be judged. */
  get slowPoints(): number | undefined {
    const limits = Object.values(this.#calculation.definition.solutions ?? {}).flatMap(
      ({ pointsOfRanges }) => pointsOfRanges ?? [],
    );
    return limits.length > 0 ? Math.min(...limits) : undefined;
  }

  compute(point: Point): Computation {
    // What stands at its stated value need not be named: the stated point is computed already.
    const changes = [...point].filter(([name, si]) => this.#values.get(name) !== si).sort(byName);
    const key = changes.map(([name, si]) => `${name}=${si}`).join(' ');
    const known = this.#computed.get(key);
    if (known) return known;
    const tools = { spread: this.#spread };
    const [first, second] = changes;
    const state =
      this.#stated && first && !second
        ? new Scan(this.#calculation, first[0], this.#stated, tools).moveTo(first[1])
        : compute(this.#calculation, new Map([...this.#values, ...point]), tools);
    this.#computed.set(key, state);
    return state;
  }

  judge(check: CompiledCheck, point: Point): PointJudgement {
    return this.judgeComputed(check, point, this.compute(point));
  }

  /** Goes through many values of one given, all else as at a point. */
  scan(given: string, point: Point): PointScan {
    const tools = { spread: this.#spread };
    const start = this.compute(point);
    const judge = (state: Computation, at: Point) => (check: CompiledCheck) =>
      this.judgeComputed(check, at, state, true);
    if (start.faults.length > 0) {
      return {
        at: (si) => {
          const at = new Map([...point, [given, si] as const]);
          const state = compute(this.#calculation, new Map([...this.#values, ...at]), tools);
          return { faulty: state.faults.length > 0, limit: this.brokenLimit(state), judge: judge(state, at) };
        },
        trends: () => undefined,
        reserve: () => undefined,
      };
    }
    const scan = new Scan(this.#calculation, given, start, tools);
    const atStake = this.brokenLimit(start) === undefined ? scan.limitsAtStake(this.#strict) : this.#strict;
    const slowly = judge(scan.state, point);
    const verdict = (check: CompiledCheck) => scan.verdictOn(check) ?? slowly(check);
    return {
      at: (si) => {
        const state = scan.moveTo(si);
        const limit = this.#findBroken(state, atStake);
        return { faulty: state.faults.length > 0, limit, judge: verdict };
      },
      trends: (stretch, checks) => scan.trendsOver(stretch, checks, atStake),
      reserve: (check) => scan.reserveOf(check),
    };
  }

  /** The same of what was computed at the point; `isUsable` where that is known. */
  judgeComputed(
    check: CompiledCheck,
    point: Point,
    state: Computation,
    isUsable = this.isUsable(state),
  ): PointJudgement {
    const faults = state.faults.length;
    const judgement = isUsable ? judgeCheck(this.#calculation, check, state) : undefined;
    // What this check cannot evaluate is a fault of this check there, not of the others.
    const isFaulty = state.faults.splice(faults).length > 0;
    const usable = isFaulty ? undefined : judgement;
    return {
      point,
      judgement: usable,
      asked: usable !== undefined || isFaulty || this.#appliesIn(check, state),
      met: usable?.met,
      margin: usable && usable.met !== undefined ? usable.margin : Number.NEGATIVE_INFINITY,
      force: usable?.force ?? strictestForce(check),
    };
  }

  /** Whether a check is asked at a point. Where that cannot be told it is, so that what is wrong there is not passed over. */
  applies(check: CompiledCheck, point: Point): boolean {
    return !check.when || this.#appliesIn(check, this.compute(point));
  }

  #appliesIn({ when }: CompiledCheck, state: Computation): boolean {
    if (!when) return true;
    const reading = evaluateCondition(when, state.values);
    if (reading.ok) return reading.value;
    if (reading.problem.code !== 'absent-value') return true;
    // What the method could not find is absent for another reason than what nobody gave.
    const { name } = reading.problem.data;
    return !this.isUsable(state) && this.#calculation.steps.some((step) => step.name === name);
  }

  /** Whether everything could be computed, within the limits whose breach is an error. */
  isUsable(state: Computation): boolean {
    return state.faults.length === 0 && this.brokenLimit(state) === undefined;
  }

  /** The name of a limit of validity whose breach is an error and that is broken, or cannot be decided. */
  brokenLimit(state: Computation): string | undefined {
    return this.#findBroken(state, this.#strict);
  }

  #findBroken(state: Computation, limits: readonly CompiledValidity[]): string | undefined {
    return limits.find(({ condition, over }) => {
      return pointsOver(this.#calculation, over, state.values).some((rows) => {
        const reading = evaluateCondition(condition, state.values, { rows });
        return reading.ok ? !reading.value : reading.problem.code !== 'absent-value';
      });
    })?.id;
  }

  /** What was chosen and what was left out at a point, for a check: where it changes, something else is judged. */
  branches(check: CompiledCheck, point: Point): string {
    const { values, words, variants } = this.compute(point);
    const chosen = this.#calculation.steps.map(({ name, work }) => {
      if (words.has(name)) return words.get(name);
      const value = values.get(name);
      if (value === undefined) return '-';
      if (typeof value === 'string') return value;
      const variant = variants.get(name);
      return variant && work.kind === 'formula' ? work.variants.indexOf(variant) : '+';
    });
    const { judgement, asked } = this.judge(check, point);
    const judged = judgement ? `${check.candidates.indexOf(judgement.candidate)} ${judgement.force}` : asked;
    return [...chosen, judged].join('|');
  }
}

function strictestForce({ forces }: CompiledCheck): Force {
  return forces.some(({ force }) => force === 'requirement') ? 'requirement' : 'recommendation';
}

function byName([a]: readonly [string, number], [b]: readonly [string, number]): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
