import { fromSi, toSi } from '../quantity/quantity.ts';
import type { Unit } from '../quantity/unit.ts';
import { functionOf } from './evaluate-function.ts';
import type { Formula, Node } from './formula.ts';
import {
  ALWAYS,
  about,
  absolute,
  compareTrends,
  difference,
  largestOf,
  leastOf,
  level,
  NEVER,
  power,
  product,
  quotient,
  rising,
  sum,
  type Trend,
  type TruthTrend,
  together,
} from './trend.ts';

/** What is known of the values that a formula reads, over the stretch. */
export interface TrendScope {
  /** Undefined where the name has no number all over the stretch. */
  trendOf(name: string): Trend | undefined;
  /** The option of a choice; undefined where it is none. */
  optionOf(name: string): string | undefined;
  /** Undefined where the name has a value at some places of the stretch only. */
  has(name: string): boolean | undefined;
}

/** Undefined where nothing can be said: the formula may have no value somewhere, or no way to tell how it goes. */
export type TrendOf = (scope: TrendScope) => Trend | undefined;
export type TruthTrendOf = (scope: TrendScope) => TruthTrend | undefined;

type Numeric = ReadonlyMap<string, Unit> | undefined;

const TRENDS = new WeakMap<Formula, { readonly numeric: Numeric; readonly of: TrendOf }>();
const TRUTHS = new WeakMap<Formula, TruthTrendOf>();

/** How the value of a formula goes; with `numeric` that of the number in the result's unit. */
export function trendOfFormula(formula: Formula, numeric: Numeric): TrendOf {
  const known = TRENDS.get(formula);
  if (known && known.numeric === numeric) return known.of;
  const of = trendOf(formula.root, numeric);
  TRENDS.set(formula, { numeric, of });
  return of;
}

/** How a condition goes; what stands behind a decided `and` or `or` is not asked. */
export function trendOfCondition(formula: Formula): TruthTrendOf {
  const known = TRUTHS.get(formula);
  if (known) return known;
  const of = truthOf(formula.root, undefined);
  TRUTHS.set(formula, of);
  return of;
}

const NOTHING = () => undefined;

function trendOf(node: Node, numeric: Numeric): TrendOf {
  switch (node.type) {
    case 'number':
      return fixed(level(node.value));
    case 'quantity':
      return fixed(level(toSi(node.value, node.unit)));
    case 'name':
      return trendOfName(node.name, numeric);
    case 'negative':
      return trendOfNegative(node, numeric);
    case 'parentheses':
      return trendOf(node.inner, numeric);
    case 'binary':
      return trendOfBinary(node, numeric);
    case 'call':
      return trendOfCall(node, numeric);
    case 'cases':
      return trendOfCases(node, numeric);
    default:
      return NOTHING;
  }
}

function fixed(trend: Trend | undefined): TrendOf {
  return () => trend;
}

function trendOfName(name: string, numeric: Numeric): TrendOf {
  if (!numeric) return (scope) => scope.trendOf(name);
  const unit = numeric.get(name);
  if (!unit || !(unit.multiplier > 0)) return NOTHING;
  return (scope) => {
    const si = scope.trendOf(name);
    return si && rising((value) => fromSi(value, unit), si);
  };
}

function trendOfNegative({ operand }: Node & { type: 'negative' }, numeric: Numeric): TrendOf {
  if (operand.type === 'quantity' && operand.unit.offset !== 0) {
    return fixed(level(toSi(-operand.value, operand.unit)));
  }
  const of = trendOf(operand, numeric);
  return (scope) => {
    const inner = of(scope);
    return inner && difference({ low: 0, high: 0, slope: 0 }, inner);
  };
}

function trendOfBinary({ operator, left, right }: Node & { type: 'binary' }, numeric: Numeric): TrendOf {
  const work = { '+': sum, '-': difference, '*': product, '/': quotient, '^': power }[operator];
  const [first, second] = [trendOf(left, numeric), trendOf(right, numeric)];
  return (scope) => {
    const a = first(scope);
    const b = a && second(scope);
    return b && work(a, b);
  };
}

function trendOfCall(node: Node & { type: 'call' }, numeric: Numeric): TrendOf {
  const { function: name } = node;
  const work = workOfCall(name);
  const isRun = node.arguments.length === 1 && (name === 'min' || name === 'max');
  if (!work || isRun) return NOTHING;
  const parts = node.arguments.map((argument) => trendOf(argument, numeric));
  return (scope) => {
    const trends: Trend[] = [];
    for (const part of parts) {
      const found = part(scope);
      if (!found) return undefined;
      trends.push(found);
    }
    return work(trends);
  };
}

/** Of functions that go one way. Of a value outside its domain a function has no number, and then nothing is said. */
function workOfCall(
  name: (Node & { type: 'call' })['function'],
): ((trends: readonly Trend[]) => Trend | undefined) | undefined {
  switch (name) {
    case 'min':
      return leastOf;
    case 'max':
      return largestOf;
    case 'abs':
      return ([a]) => absolute(a!);
    case 'exp':
    case 'ln':
    case 'log10':
    case 'sinh':
    case 'tanh':
    case 'atan':
    case 'asinh':
      return ([a]) => about(rising(functionOf(name), a!));
    case 'sqrt':
    case 'floor':
    case 'ceil':
      return ([a]) => rising(functionOf(name), a!);
    default:
      return undefined;
  }
}

function trendOfCases(node: Node & { type: 'cases' }, numeric: Numeric): TrendOf {
  const cases = node.cases.map(({ value, when }) => ({
    of: trendOf(value, numeric),
    when: truthOf(when, numeric),
  }));
  const otherwise = node.otherwise ? trendOf(node.otherwise, numeric) : NOTHING;
  return (scope) => {
    for (const { of, when } of cases) {
      const holds = when(scope)?.always;
      if (holds === undefined) return undefined;
      if (holds) return of(scope);
    }
    return otherwise(scope);
  };
}

function truthOf(node: Node, numeric: Numeric): TruthTrendOf {
  switch (node.type) {
    case 'comparison': {
      const [left, right] = [trendOf(node.left, numeric), trendOf(node.right, numeric)];
      const { operator } = node;
      return (scope) => {
        const a = left(scope);
        const b = a && right(scope);
        return b && compareTrends(a, operator, b);
      };
    }
    case 'choice': {
      const { name, option } = node;
      return (scope) => {
        const chosen = scope.optionOf(name);
        return chosen === undefined ? undefined : chosen === option ? ALWAYS : NEVER;
      };
    }
    case 'given': {
      const { name } = node;
      return (scope) => {
        const has = scope.has(name);
        return has === undefined ? { always: undefined, slope: Number.NaN } : has ? ALWAYS : NEVER;
      };
    }
    case 'logic':
      return truthOfLogic(node, numeric);
    case 'not': {
      const operand = truthOf(node.operand, numeric);
      return (scope) => {
        const inner = operand(scope);
        return (
          inner && { always: inner.always === undefined ? undefined : !inner.always, slope: -inner.slope }
        );
      };
    }
    case 'parentheses':
      return truthOf(node.inner, numeric);
    default:
      return NOTHING;
  }
}

function truthOfLogic({ left, right, operator }: Node & { type: 'logic' }, numeric: Numeric): TruthTrendOf {
  const [first, second] = [truthOf(left, numeric), truthOf(right, numeric)];
  const decides = operator === 'or';
  return (scope) => {
    const a = first(scope);
    if (!a || a.always === decides) return a;
    const b = second(scope);
    if (!b || a.always !== undefined) return b;
    if (b.always !== undefined) return b.always === decides ? b : a;
    return { always: undefined, slope: together(a.slope, b.slope) };
  };
}
