import { fromSi, toSi } from '../quantity/quantity.ts';
import type { Unit } from '../quantity/unit.ts';
import { compareValues } from './compare-values.ts';
import { functionOf } from './evaluate-function.ts';
import type { Formula, Node, ValueLookup } from './formula.ts';

/*
 * A formula made into functions once, for those who evaluate it at very many values: limiting values, ranges, rows of a table. It says
 * nothing of what goes wrong. Where anything does, or rows of tables are involved, the answer is "not so", and the formula is
 * evaluated as it stands, which tells the fault.
 *
 * **Invariant:** an answer is bit for bit that of `evaluateFormula` and `evaluateCondition` without a short cut; they hold each other
 * in `test/formula/quick-formula.test.ts`.
 */

/** NaN where there is no answer. */
export type QuickValue = (values: ValueLookup) => number;
/** Undefined where there is no answer. */
export type QuickCondition = (values: ValueLookup) => boolean | undefined;

interface Quick {
  readonly value: QuickValue;
  readonly numeric: ReadonlyMap<string, Unit> | undefined;
}

const VALUES = new WeakMap<Formula, Quick>();
const CONDITIONS = new WeakMap<Formula, QuickCondition>();

export function quickValue(formula: Formula, numeric: ReadonlyMap<string, Unit> | undefined): QuickValue {
  const known = VALUES.get(formula);
  if (known && known.numeric === numeric) return known.value;
  const value = quickOf(formula.root, numeric);
  VALUES.set(formula, { value, numeric });
  return value;
}

export function quickCondition(formula: Formula): QuickCondition {
  const known = CONDITIONS.get(formula);
  if (known) return known;
  const condition = conditionOf(formula.root);
  CONDITIONS.set(formula, condition);
  return condition;
}

const NO_VALUE: QuickValue = () => Number.NaN;
const NO_CONDITION: QuickCondition = () => undefined;

function finite(value: number): number {
  return Number.isFinite(value) ? value : Number.NaN;
}

function quickOf(node: Node, numeric: ReadonlyMap<string, Unit> | undefined): QuickValue {
  const inner = (other: Node) => quickOf(other, numeric);
  switch (node.type) {
    case 'number': {
      const { value } = node;
      return () => value;
    }
    case 'quantity': {
      const si = finite(toSi(node.value, node.unit));
      return () => si;
    }
    case 'name':
      return nameOf(node.name, numeric);
    case 'negative': {
      if (node.operand.type === 'quantity' && node.operand.unit.offset !== 0) {
        const si = toSi(-node.operand.value, node.operand.unit);
        return () => si;
      }
      const operand = inner(node.operand);
      return (values) => 0 - operand(values);
    }
    case 'parentheses':
      return inner(node.inner);
    case 'binary':
      return binaryOf(node, inner(node.left), inner(node.right));
    case 'call':
      return callOf(node, inner);
    case 'cases':
      return casesOf(node, numeric);
    default:
      return NO_VALUE;
  }
}

function nameOf(name: string, numeric: ReadonlyMap<string, Unit> | undefined): QuickValue {
  if (!numeric) {
    return (values) => {
      const value = values.get(name);
      return typeof value === 'number' ? finite(value) : Number.NaN;
    };
  }
  const unit = numeric.get(name);
  if (!unit) return NO_VALUE;
  return (values) => {
    const value = values.get(name);
    return typeof value === 'number' ? finite(fromSi(value, unit)) : Number.NaN;
  };
}

function binaryOf({ operator }: Node & { type: 'binary' }, left: QuickValue, right: QuickValue): QuickValue {
  switch (operator) {
    case '+':
      return (values) => finite(left(values) + right(values));
    case '-':
      return (values) => finite(left(values) - right(values));
    case '*':
      return (values) => finite(left(values) * right(values));
    case '/':
      return (values) => finite(left(values) / right(values));
    case '^':
      return (values) => {
        const [base, exponent] = [left(values), right(values)];
        // 1 and any number to the power of 0 would hide that one of them has no value.
        return Number.isNaN(base) || Number.isNaN(exponent) ? Number.NaN : finite(base ** exponent);
      };
  }
}

function callOf(node: Node & { type: 'call' }, inner: (node: Node) => QuickValue): QuickValue {
  const { function: name } = node;
  const runs = node.arguments.length === 1 && (name === 'min' || name === 'max');
  if (runs || name === 'sum' || name === 'product' || name === 'count') return NO_VALUE;
  const work = functionOf(name);
  const [first, ...others] = node.arguments.map(inner);
  if (!first) return NO_VALUE;
  if (others.length === 0) {
    return (values) => {
      const x = first(values);
      return Number.isNaN(x) ? x : finite(work(x));
    };
  }
  return (values) => {
    const found = [first(values), ...others.map((other) => other(values))];
    return found.some(Number.isNaN) ? Number.NaN : finite(work(...found));
  };
}

function casesOf(node: Node & { type: 'cases' }, numeric: ReadonlyMap<string, Unit> | undefined): QuickValue {
  const inner = (other: Node) => quickOf(other, numeric);
  const cases = node.cases.map(({ value, when }) => ({
    value: inner(value),
    when: conditionOf(when, numeric),
  }));
  const otherwise = node.otherwise ? inner(node.otherwise) : NO_VALUE;
  return (values) => {
    for (const { value, when } of cases) {
      const holds = when(values);
      if (holds === undefined) return Number.NaN;
      if (holds) return value(values);
    }
    return otherwise(values);
  };
}

function conditionOf(node: Node, numeric?: ReadonlyMap<string, Unit>): QuickCondition {
  switch (node.type) {
    case 'comparison': {
      const [left, right] = [quickOf(node.left, numeric), quickOf(node.right, numeric)];
      const { operator } = node;
      return (values) => {
        const [a, b] = [left(values), right(values)];
        return Number.isNaN(a) || Number.isNaN(b) ? undefined : compareValues(a, operator, b);
      };
    }
    case 'choice': {
      const { name, option } = node;
      return (values) => {
        const value = values.get(name);
        return typeof value === 'string' ? value === option : undefined;
      };
    }
    case 'given': {
      const { name } = node;
      return (values) => values.has(name);
    }
    case 'logic':
      return logicOf(node, numeric);
    case 'not': {
      const operand = conditionOf(node.operand, numeric);
      return (values) => {
        const holds = operand(values);
        return holds === undefined ? undefined : !holds;
      };
    }
    case 'parentheses':
      return conditionOf(node.inner, numeric);
    default:
      return NO_CONDITION;
  }
}

function logicOf(
  { left, right, operator }: Node & { type: 'logic' },
  numeric: ReadonlyMap<string, Unit> | undefined,
): QuickCondition {
  const [first, second] = [conditionOf(left, numeric), conditionOf(right, numeric)];
  const decides = operator === 'or';
  return (values) => {
    const holds = first(values);
    return holds === undefined || holds === decides ? holds : second(values);
  };
}
