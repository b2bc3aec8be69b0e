import { found, type Reading } from '../diagnostics/problem.ts';
import { toSi } from '../quantity/quantity.ts';
import type { Unit } from '../quantity/unit.ts';
import { compareValues } from './compare-values.ts';
import { evaluateFunction } from './evaluate-function.ts';
import type { Formula, Node, RowPoint, ValueLookup } from './formula.ts';
import { attempt, fail } from './formula-fault.ts';
import { childrenOf, isListRun, type ListRun, namesOfRun, tableOf, withoutParentheses } from './node-kind.ts';
import { quickCondition, quickValue } from './quick-formula.ts';
import { ValueScope } from './value-scope.ts';

/** How the names of a formula enter it. */
export interface EvaluationOptions {
  /** Every name enters as the number that it has in the given unit. */
  readonly numeric?: ReadonlyMap<string, Unit> | undefined;
  /** The rows of tables at which the formula is taken. */
  readonly rows?: RowPoint | undefined;
}

/**
 * Evaluates a formula in SI units; with `numeric` the result is the number in the result's unit. Whatever gives no finite
 * number is a problem.
 */
export function evaluateFormula(
  formula: Formula,
  values: ValueLookup,
  { numeric, rows }: EvaluationOptions = {},
): Reading<number> {
  if (!rows || rows.size === 0) {
    const value = quickValue(formula, numeric)(values);
    if (!Number.isNaN(value)) return found(value);
  }
  const scope = new ValueScope(formula.text, values, numeric, rows);
  return attempt(() => evaluate(formula.root, scope));
}

const HOLDS: Reading<boolean> = { ok: true, value: true };
const DOES_NOT_HOLD: Reading<boolean> = { ok: true, value: false };

/** Evaluates a condition; what stands behind a decided `and` or `or` is not asked. */
export function evaluateCondition(
  formula: Formula,
  values: ValueLookup,
  { rows }: Pick<EvaluationOptions, 'rows'> = {},
): Reading<boolean> {
  if (!rows || rows.size === 0) {
    const holds = quickCondition(formula)(values);
    if (holds !== undefined) return holds ? HOLDS : DOES_NOT_HOLD;
  }
  const scope = new ValueScope(formula.text, values, undefined, rows);
  return attempt(() => holds(formula.root, scope));
}

/** Of a formula's cases the value that applies, or undefined where none does or a needed value is absent. */
export function chooseCase(
  node: Node & { type: 'cases' },
  text: string,
  values: ValueLookup,
  { numeric, rows }: EvaluationOptions = {},
): Node | undefined {
  const reading = attempt(() => applicableCase(node, new ValueScope(text, values, numeric, rows)));
  return reading.ok ? reading.value : undefined;
}

/** The value of a node without names, or undefined where it has names or no value. */
export function constantValue(node: Node, text: string): number | undefined {
  if (hasNames(node)) return undefined;
  const reading = attempt(() => evaluate(node, new ValueScope(text, new Map(), undefined)));
  return reading.ok ? reading.value : undefined;
}

function hasNames(node: Node): boolean {
  if (node.type === 'name' || node.type === 'choice' || node.type === 'given') return true;
  return childrenOf(node).some(hasNames);
}

function evaluate(node: Node, scope: ValueScope): number {
  switch (node.type) {
    case 'number':
      return node.value;
    case 'quantity':
      return scope.requireFinite(toSi(node.value, node.unit), node);
    case 'name':
      return scope.requireFinite(scope.number(node), node);
    case 'negative':
      // -40 degC is a temperature below zero, not the opposite of one above it.
      if (node.operand.type === 'quantity' && node.operand.unit.offset !== 0) {
        return toSi(-node.operand.value, node.operand.unit);
      }
      return 0 - evaluate(node.operand, scope); // never -0
    case 'parentheses':
      return evaluate(node.inner, scope);
    case 'binary':
      return scope.requireFinite(evaluateBinary(node, scope), node);
    case 'call':
      return scope.requireFinite(evaluateCall(node, scope), node);
    case 'cases':
      return evaluate(applicableCase(node, scope), scope);
    default:
      return fail('condition-where-value', { text: scope.slice(node) }, node.span);
  }
}

function holds(node: Node, scope: ValueScope): boolean {
  switch (node.type) {
    case 'comparison':
      return compareValues(evaluate(node.left, scope), node.operator, evaluate(node.right, scope));
    case 'choice':
      return scope.choice(node) === node.option;
    case 'given':
      return scope.has(node.name);
    case 'logic':
      if (node.operator === 'and') return holds(node.left, scope) && holds(node.right, scope);
      return holds(node.left, scope) || holds(node.right, scope);
    case 'not':
      return !holds(node.operand, scope);
    case 'parentheses':
      return holds(node.inner, scope);
    default:
      return fail('value-where-condition', { text: scope.slice(node) }, node.span);
  }
}

function applicableCase(node: Node & { type: 'cases' }, scope: ValueScope): Node {
  const applies = node.cases.find(({ when }) => holds(when, scope))?.value ?? node.otherwise;
  return applies ?? fail('no-case-applies', { values: scope.describeValues(node) }, node.span);
}

function evaluateBinary(node: Node & { type: 'binary' }, scope: ValueScope): number {
  const left = evaluate(node.left, scope);
  const right = evaluate(node.right, scope);
  switch (node.operator) {
    case '+':
      return left + right;
    case '-':
      return left - right;
    case '*':
      return left * right;
    case '/':
      if (right === 0) failAtZero(node, node.right, scope);
      return left / right;
    case '^':
      return raise(node, left, right, scope);
  }
}

function raise(node: Node & { type: 'binary' }, base: number, exponent: number, scope: ValueScope): number {
  if (base === 0 && exponent < 0) failAtZero(node, node.left, scope);
  const result = base ** exponent;
  if (Number.isNaN(result)) {
    const values = scope.describeValues(node);
    fail(
      'power-without-value',
      { expression: scope.slice(node), base: scope.write(base), exponent: scope.write(exponent), values },
      node.span,
    );
  }
  return result;
}

function failAtZero(node: Node, divisor: Node, scope: ValueScope): never {
  const shown = withoutParentheses(divisor);
  fail(
    'division-by-zero',
    { expression: scope.slice(node), divisor: scope.slice(shown), values: scope.describeValues(divisor) },
    node.span,
  );
}

function evaluateCall(node: Node & { type: 'call' }, scope: ValueScope): number {
  if (node.function === 'count') return scope.list(node.arguments[0]!).length;
  if (isListRun(node)) return evaluateRun(node, scope);
  const values = node.arguments.map((argument) => evaluate(argument, scope));
  return evaluateFunction(node, values, scope);
}

function evaluateRun(node: ListRun, scope: ValueScope): number {
  const argument = node.arguments[0]!;
  const length = scope.lengthOfRun(node, namesOfRun(node));
  const terms: number[] = [];
  for (let row = 0; row < length; row += 1) terms.push(evaluate(argument, scope.atRow(tableOf(node), row)));
  switch (node.function) {
    case 'sum':
      return terms.reduce((total, term) => total + term, 0);
    case 'product':
      return terms.reduce((total, term) => total * term, 1);
    case 'min':
      return Math.min(...terms);
    case 'max':
      return Math.max(...terms);
  }
}
