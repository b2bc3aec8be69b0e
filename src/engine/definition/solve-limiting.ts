import type { Slope } from '../../formula/trend.ts';
import { displaySi, displayValue, USUAL_DIGITS } from '../../quantity/display.ts';
import { toSi } from '../../quantity/quantity.ts';
import { say } from '../../words/sentence.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import type { LimitingDefinition } from './definition.ts';
import { KnownVerdicts } from './known-verdicts.ts';
import type { PointJudge, PointScan } from './point-judge.ts';
import type { Point } from './point-judgement.ts';
import { outside } from './read-given.ts';
import type { ScanTrends } from './scan-trends.ts';
import { unitOf } from './show-step.ts';
import { siOf } from './si-of.ts';
import type { NumberResult, ResultValue } from './value.ts';

/** So near to each other, as a part of their size, are two values between which a turn is not looked for. */
const NEIGHBOURS = 1e-13;

/** A limiting value, and what sets it. */
export interface LimitingValue {
  readonly result: ResultValue;
  /** The check that is not met just beyond it, or, where no value complies, at the best; none where nothing limits. */
  readonly governing: string | undefined;
  /** Where the method ends, and no check: its limit of validity; none where it gives no value. */
  readonly outside: { readonly limit: string | undefined } | undefined;
  /** The checks that are met up to it. */
  readonly checks: readonly string[];
  /** The ends of the values that comply, in SI: where it must hold over the ranges of other givens too. */
  readonly ends: readonly number[];
}

/** Values tried between the ends, to find out where the verdicts turn. */
const SAMPLES = 48;
/** Both ends, the stated value, four for each part, and few whole numbers. */
const MOST_SAMPLES = 3 + 2 * SAMPLES + SAMPLES + 1;

/**
 * The largest (or smallest) value of a given at which every one of `checks` is met, other values unchanged: at the stated values and
 * at each of `points`, which are the least favourable points of the ranges of other givens. Rounded to the safe side and judged
 * again as printed. Beyond the limits of the method nothing complies. Undefined where there is nothing to say.
 */
export function solveLimiting(
  calculation: CompiledCalculation,
  limiting: LimitingDefinition,
  checks: readonly CompiledCheck[],
  judge: PointJudge,
  nominal: number,
  points: readonly Point[],
): LimitingValue | undefined {
  const search = new Search(calculation, limiting, checks, judge, nominal, points);
  return checks.length === 0 ? undefined : search.solve();
}

/** Why a value does not do: the check that is least met there, one asked at the stated value before others, or the limit of the method. */
interface Obstacle {
  readonly check?: string;
  readonly outside?: { readonly limit: string | undefined };
}

/** Where to look. */
interface Stretch {
  readonly low: number;
  readonly high: number;
  readonly lowIsOpen: boolean;
  readonly highIsOpen: boolean;
}

class Search {
  readonly #calculation: CompiledCalculation;
  readonly #limiting: LimitingDefinition;
  readonly #checks: readonly CompiledCheck[];
  readonly #judge: PointJudge;
  readonly #nominal: number;
  readonly #points: readonly Point[];
  readonly #scans: readonly PointScan[];
  readonly #stretch: Stretch;
  /** Of each scan how the verdicts go over the stretch; undefined where that cannot be told of every one. */
  readonly #trends: readonly ScanTrends[] | undefined;
  readonly #known: KnownVerdicts;
  readonly #found = new Map<number, Obstacle | undefined>();
  readonly #askedNow = new Map<CompiledCheck, boolean>();

  constructor(
    calculation: CompiledCalculation,
    limiting: LimitingDefinition,
    checks: readonly CompiledCheck[],
    judge: PointJudge,
    nominal: number,
    points: readonly Point[],
  ) {
    this.#calculation = calculation;
    this.#limiting = limiting;
    this.#checks = checks;
    this.#judge = judge;
    this.#nominal = nominal;
    this.#points = [new Map<string, number>(), ...points];
    this.#scans = this.#points.map((point) => judge.scan(limiting.given, point));
    this.#stretch = this.#ends();
    const { low, high } = this.#stretch;
    this.#known = new KnownVerdicts(low, high);
    const trends = this.#scans.map((scan) => scan.trends([low, high], checks));
    this.#trends = trends.every((one) => one !== undefined) ? trends : undefined;
  }

  solve(): LimitingValue | undefined {
    const { given, seek } = this.#limiting;
    const unit = unitOf(this.#calculation, given);
    const { low, high, lowIsOpen, highIsOpen } = this.#stretch;
    const samples = this.#samples(low, high);
    if (seek === 'smallest') samples.reverse();
    this.#settle(samples, 0, samples.length - 1);
    const complying = samples.map((si) => this.#complies(si));
    if (!complying.includes(true)) {
      const words = say('limiting.none', {});
      return this.#told(
        { type: 'words', words, unit },
        [],
        this.#obstacle(this.#nominal) ?? this.#obstacle(samples[0]!),
      );
    }
    // The stretch of complying values that holds the stated one, else the first from the favourable end.
    const stated = samples.indexOf(this.#nominal);
    const inside = complying[stated] === true ? stated : complying.indexOf(true);
    let [first, last] = [inside, inside];
    while (complying[first - 1]) first--;
    while (complying[last + 1]) last++;
    const elsewhere = complying.some((complies, i) => complies && (i < first || i > last));
    const beyond = samples[last + 1];
    const before = samples[first - 1];
    if (beyond === undefined && before === undefined) {
      const si = seek === 'largest' ? high : low;
      const value: NumberResult = { type: 'number', si, unit, displayed: displaySi(si, unit) };
      const isOpen = seek === 'largest' ? highIsOpen : lowIsOpen;
      const open = seek === 'largest' ? ('limiting.open-above' as const) : ('limiting.open-below' as const);
      const words = isOpen ? say(open, { value }) : say('limiting.any', {});
      return this.#told({ type: 'words', words, unit }, [low, high], undefined);
    }
    const far = beyond === undefined ? undefined : this.#turn(samples[last]!, beyond);
    const near = before === undefined ? undefined : this.#turn(samples[first]!, before);
    // That the method ends on the favourable side takes nothing from the value sought.
    const isWindow = near !== undefined && this.#obstacle(near.bad)?.check !== undefined;
    if (!isWindow && far !== undefined && !elsewhere) {
      const result = this.#rounded(far.good, seek, far.bad);
      return this.#told(result, [result.si, samples[first]!], this.#obstacle(far.bad));
    }
    // Values on the favourable side do not comply either, or values beyond do again: both ends are told.
    const ends = [near?.good ?? samples[first]!, far?.good ?? samples[last]!].sort((a, b) => a - b);
    const [from, to] = [
      this.#rounded(ends[0]!, 'smallest', near?.bad ?? low),
      this.#rounded(ends[1]!, 'largest', far?.bad ?? high),
    ];
    const words = say(elsewhere ? 'limiting.stretch-of-several' : 'limiting.stretch', { from, to });
    return this.#told({ type: 'words', words, unit }, [from.si, to.si], this.#obstacle((far ?? near)!.bad));
  }

  #told(result: ResultValue, ends: readonly number[], obstacle: Obstacle | undefined): LimitingValue {
    return {
      result,
      ends,
      governing: obstacle?.check,
      outside: obstacle?.outside,
      checks: this.#checks
        .filter((check) => [this.#nominal, ...ends].some((si) => this.#isAsked(check, si)))
        .map(({ name }) => name),
    };
  }

  #isAsked(check: CompiledCheck, si: number): boolean {
    return this.#judge.applies(check, new Map([[this.#limiting.given, si]]));
  }

  #isAskedNow(check: CompiledCheck): boolean {
    let asked = this.#askedNow.get(check);
    if (asked === undefined) {
      asked = this.#isAsked(check, this.#nominal);
      this.#askedNow.set(check, asked);
    }
    return asked;
  }

  #complies(si: number): boolean {
    return this.#known.at(si) ?? this.#obstacle(si) === undefined;
  }

  /** Asks first at the values that tell of others, where verdicts tell of others. */
  #settle(samples: readonly number[], from: number, to: number): void {
    if (!this.#trends) return;
    this.#complies(samples[from]!);
    this.#complies(samples[to]!);
    if (to - from < 2 || this.#known.isOne(samples[from]!, samples[to]!)) return;
    const middle = (from + to) >> 1;
    this.#settle(samples, from, middle);
    this.#settle(samples, middle, to);
  }

  /** What keeps a value from complying; undefined where nothing does. */
  #obstacle(si: number): Obstacle | undefined {
    if (this.#found.has(si)) return this.#found.get(si);
    const obstacle = this.#findObstacle(si);
    this.#found.set(si, obstacle);
    return obstacle;
  }

  #findObstacle(si: number): Obstacle | undefined {
    let worst: { readonly check: string; readonly margin: number; readonly isAskedNow: boolean } | undefined;
    let [turnToMet, turnFromMet] = [true, true];
    for (const [i, scan] of this.#scans.entries()) {
      const { faulty, limit, judge } = scan.at(si);
      const trends = this.#trends?.[i];
      if (faulty || limit !== undefined) {
        if (!faulty && trends) this.#noteBroken(si, trends.limits.get(limit!));
        return { outside: { limit } };
      }
      for (const check of this.#checks) {
        const { met, margin, asked } = judge(check);
        // A check that is not asked at that value asks nothing of it.
        if (met === true || !asked) continue;
        if (trends && trends.checks.get(check) === 1) turnToMet = false;
        else turnFromMet = false;
        // A check that the reader has before him says more than one that is asked beyond the limit only.
        const isAskedNow = this.#isAskedNow(check);
        const isWorse =
          worst?.isAskedNow === isAskedNow ? margin < worst.margin : isAskedNow || worst === undefined;
        if (isWorse) worst = { check: check.name, margin, isAskedNow };
      }
    }
    if (this.#trends) this.#known.note(si, turnToMet, turnFromMet);
    return worst && { check: worst.check };
  }

  /** Of the verdicts behind a limit that is broken nothing was asked. */
  #noteBroken(si: number, slope: Slope | undefined): void {
    if (slope === 1) this.#known.note(si, false, undefined);
    else if (slope !== undefined) this.#known.note(si, undefined, false);
  }

  /** Between which values to look: the permitted range, and where it is open a factor of a million beyond what is usual. */
  #ends(): Stretch {
    const given = this.#calculation.givens.get(this.#limiting.given)?.definition;
    const { permitted, usual } = given?.type === 'quantity' ? given : {};
    const unit = unitOf(this.#calculation, this.#limiting.given);
    const usualReach = [usual?.from, usual?.to].map((end) => Math.abs(end === undefined ? 0 : siOf(end)!));
    const reach = Math.max(Math.abs(this.#nominal), ...usualReach) || toSi(1, unit);
    const from = permitted?.from ?? permitted?.above;
    const to = permitted?.to ?? permitted?.below;
    let low = from === undefined ? (this.#nominal < 0 ? -reach * 1e6 : 0) : siOf(from)!;
    let high = to === undefined ? reach * 1e6 : siOf(to)!;
    // An end that is itself excluded is approached, not met.
    if (permitted && outside(low, permitted)) low += Math.min(reach, high - low) * 1e-9;
    if (permitted && outside(high, permitted)) high -= (high - low) * 1e-9;
    return { low, high, lowIsOpen: from === undefined, highIsOpen: to === undefined };
  }

  /** Both ends, the stated value, and values between: closer together near the stated one, in even parts and in even ratios. */
  #samples(low: number, high: number): number[] {
    const stated = this.#nominal;
    const whole = this.#isWhole();
    // Numbers that know their type are sorted several times as quickly.
    const values = new Float64Array(MOST_SAMPLES);
    let count = 0;
    const add = (value: number): void => {
      // Nought is one number, whatever its sign.
      const si = (whole ? Math.round(value) : value) + 0;
      if (si >= low && si <= high) values[count++] = si;
    };
    add(low);
    add(high);
    add(stated);
    // In even ratios: up from the stated value, or from a billionth of the end where that is nought.
    const start = stated > 0 ? stated : high * 1e-9;
    for (let i = 1; i < SAMPLES / 2; i++) {
      const part = i / (SAMPLES / 2);
      add(low + (stated - low) * part);
      add(stated + (high - stated) * part);
      if (start > 0 && high > start) add(start * (high / start) ** part);
      if (stated > 0) add(stated * (1 + part * 3));
    }
    // Of few whole numbers each one.
    if (whole && high - low <= SAMPLES) for (let si = Math.ceil(low); si <= high; si++) add(si);
    const sorted = values.subarray(0, count).sort();
    const samples: number[] = [];
    for (const si of sorted) if (si !== samples.at(-1)) samples.push(si);
    return samples;
  }

  #isWhole(): boolean {
    const given = this.#calculation.givens.get(this.#limiting.given)?.definition;
    return given?.type === 'quantity' && given.whole === true;
  }

  #turn(complying: number, failing: number): { readonly good: number; readonly bad: number } {
    let [good, bad] = [complying, failing];
    const whole = this.#isWhole();
    if (this.#trends && !whole) this.#approach(complying, failing);
    for (let i = 0; i < 200; i++) {
      const apart = Math.abs(bad - good);
      if (whole ? apart <= 1 : apart <= NEIGHBOURS * Math.max(Math.abs(good), Math.abs(bad))) break;
      // Far apart in magnitude: halve the exponent, so that six decades take few steps.
      const far = good > 0 && bad > 0 && Math.max(good / bad, bad / good) > 4;
      const between = far ? Math.sqrt(good * bad) : (good + bad) / 2;
      // Between whole numbers there is nothing to judge.
      const middle = whole
        ? Math.min(Math.max(good, bad) - 1, Math.max(Math.min(good, bad) + 1, Math.round(between)))
        : between;
      if (this.#complies(middle)) good = middle;
      else bad = middle;
    }
    return { good, bad };
  }

  /**
   * Asks where a straight line between two values would have the turn, so that the halving that follows finds most of its answers known.
   * What it asks changes no answer.
   */
  #approach(complying: number, failing: number): void {
    let [good, bad] = [complying, failing];
    let [above, below] = [this.#reserve(good), this.#reserve(bad)];
    let side: boolean | undefined;
    for (let i = 0; i < 12 && above >= 0 && below < 0; i++) {
      const si = good + (bad - good) * (above / (above - below));
      const reserve = this.#reserve(si);
      const complies = this.#complies(si);
      // Twice on the same side: the other end weighs half, so that both ends close in.
      const weight = side === complies ? 0.5 : 1;
      if (complies) [good, above, below] = [si, reserve, below * weight];
      else [bad, above, below] = [si, above * weight, reserve];
      side = complies;
      // Near enough to see the turn between two neighbours.
      const apart = 0.5 * NEIGHBOURS * Math.abs(si) * Math.sign(bad - good);
      if (this.#complies(complies ? si + apart : si - apart) !== complies) return;
    }
  }

  /** How far the value is from the turn: below nought beyond it; NaN where there is no telling. */
  #reserve(si: number): number {
    const reserves = this.#scans.flatMap((scan) => {
      const { limit } = scan.at(si);
      return limit === undefined ? this.#checks.map((check) => scan.reserve(check) ?? Infinity) : Number.NaN;
    });
    return Math.min(...reserves);
  }

  #rounded(si: number, seek: 'largest' | 'smallest', bad: number): NumberResult {
    const unit = unitOf(this.#calculation, this.#limiting.given);
    // Whole numbers of whole things, to the safe side; what lies within rounding noise of one is that one.
    if (this.#isWhole()) {
      const whole = seek === 'largest' ? Math.floor(si * (1 + 1e-9)) : Math.ceil(si * (1 - 1e-9));
      return { type: 'number', si: whole, unit, displayed: displaySi(whole, unit, { digits: 1 }) };
    }
    if (this.#isNought(si, seek, bad)) {
      return { type: 'number', si: 0, unit, displayed: displaySi(0, unit, { digits: USUAL_DIGITS }) };
    }
    const direction = seek === 'largest' ? 'down' : 'up';
    // The nearest printed value complies too where the exact one lies within rounding noise of it.
    const nearest = displaySi(si, unit, { digits: USUAL_DIGITS });
    let displayed = displaySi(si, unit, { digits: USUAL_DIGITS, direction });
    if (this.#complies(toSi(nearest.value, unit))) displayed = nearest;
    else if (!this.#complies(toSi(displayed.value, unit))) {
      const step = seek === 'largest' ? -displayed.lastDigit : displayed.lastDigit;
      displayed = displayValue(displayed.value + step, unit, { digits: USUAL_DIGITS });
    }
    return { type: 'number', si: toSi(displayed.value, unit), unit, displayed };
  }
  /** Whether a value, beyond which something fails, lies beyond nought only by what a verdict at its limit lets pass. */
  #isNought(si: number, seek: 'largest' | 'smallest', bad: number): boolean {
    if (!this.#complies(0)) return false;
    const reach = Math.max(Math.abs(this.#nominal), Math.abs(this.#stretch.low));
    if (Math.abs(si) <= reach * 1e-8) return true;
    if (seek === 'largest' ? si < 0 : si > 0) return false;
    const governing = this.#checks.find(({ name }) => name === this.#obstacle(bad)?.check);
    // However little the given does to what is judged: a check that is at its limit all the way from nought leaves nothing for it.
    return (
      governing !== undefined &&
      this.#isSlight(governing, si) &&
      [0, si].every((at) => this.#isAtLimit(governing, at))
    );
  }

  /** Whether a check is hardly broken at twice the value up to which it is met. */
  #isSlight(check: CompiledCheck, si: number): boolean {
    return this.#scans.some((scan) => {
      const { met, margin } = scan.at(2 * si).judge(check);
      return met === false && margin > -1e-6;
    });
  }

  #isAtLimit(check: CompiledCheck, si: number): boolean {
    return this.#points.some((point) => {
      const at = new Map([...point, [this.#limiting.given, si] as const]);
      return this.#judge.judge(check, at).judgement?.atLimit === true;
    });
  }
}
