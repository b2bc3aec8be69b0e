import { areEqual } from './compare-values.ts';
import type { FunctionName, Node } from './formula.ts';
import { fail } from './formula-fault.ts';
import type { ValueScope } from './value-scope.ts';

interface Domain {
  readonly holds: (x: number) => boolean;
  /** What the argument must be, as a message says it. */
  readonly words: string;
}

const NOT_NEGATIVE: Domain = { holds: (x) => x >= 0, words: 'an argument that is not negative' };
const POSITIVE: Domain = { holds: (x) => x > 0, words: 'an argument above 0' };
const UNIT_INTERVAL: Domain = { holds: (x) => Math.abs(x) <= 1, words: 'an argument from -1 to 1' };
const FROM_ONE: Domain = { holds: (x) => x >= 1, words: 'an argument of at least 1' };

const DOMAINS: Partial<Record<FunctionName, Domain>> = {
  sqrt: NOT_NEGATIVE,
  ln: POSITIVE,
  log10: POSITIVE,
  asin: UNIT_INTERVAL,
  acos: UNIT_INTERVAL,
  acosh: FROM_ONE,
};

type OneArgument = Exclude<FunctionName, 'min' | 'max' | 'sum' | 'product' | 'count'>;

const FUNCTIONS_OF_ONE: Readonly<Record<OneArgument, (x: number) => number>> = {
  sqrt: Math.sqrt,
  exp: Math.exp,
  ln: Math.log,
  log10: Math.log10,
  abs: Math.abs,
  sin: Math.sin,
  cos: Math.cos,
  tan: Math.tan,
  asin: Math.asin,
  acos: Math.acos,
  atan: Math.atan,
  sinh: Math.sinh,
  cosh: Math.cosh,
  tanh: Math.tanh,
  asinh: Math.asinh,
  acosh: Math.acosh,
  floor: (x) => toWhole(x, Math.floor),
  ceil: (x) => toWhole(x, Math.ceil),
};

/** Evaluates a function of numbers; outside its domain it fails with a problem that names the argument. */
export function evaluateFunction(
  node: Node & { type: 'call' },
  values: readonly number[],
  scope: ValueScope,
): number {
  const name = node.function;
  if (name === 'min') return Math.min(...values);
  if (name === 'max') return Math.max(...values);
  if (name === 'sum' || name === 'product' || name === 'count')
    throw new Error(`'${name}' is not a function of numbers`);
  const value = values[0]!;
  const domain = DOMAINS[name];
  if (domain && !domain.holds(value)) {
    fail(
      'outside-function-domain',
      {
        expression: scope.slice(node),
        function: name,
        domain: domain.words,
        argument: scope.slice(node.arguments[0]!),
        value: scope.write(value),
        values: scope.describeValues(node),
      },
      node.span,
    );
  }
  return FUNCTIONS_OF_ONE[name](value);
}

/** The same function where its arguments lie within its domain; elsewhere NaN, and nothing is said. */
export function functionOf(
  name: Exclude<FunctionName, 'sum' | 'product' | 'count'>,
): (...values: number[]) => number {
  if (name === 'min') return Math.min;
  if (name === 'max') return Math.max;
  const [work, domain] = [FUNCTIONS_OF_ONE[name], DOMAINS[name]];
  return domain ? (x) => (domain.holds(x!) ? work(x!) : Number.NaN) : (x) => work(x!);
}

/** A value that is whole but for the noise of binary fractions is that whole number: floor(0.3 / 0.1) is 3. */
function toWhole(x: number, round: (x: number) => number): number {
  const nearest = Math.round(x);
  return areEqual(x, nearest) ? nearest : round(x);
}
