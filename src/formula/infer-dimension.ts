import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Span } from '../diagnostics/place.ts';
import type { Problem, Reading } from '../diagnostics/problem.ts';
import {
  type Dimension,
  divide,
  isPure,
  multiply,
  nameDimension,
  PURE_NUMBER,
  power,
  sameDimension,
} from '../quantity/dimension.ts';
import type { Unit } from '../quantity/unit.ts';
import { UNIT_TABLE } from '../quantity/unit-table.ts';
import { constantValue } from './evaluate-formula.ts';
import type { Formula, Node, SymbolInfo, SymbolTable } from './formula.ts';
import { attempt, fail } from './formula-fault.ts';
import { isListRun, type ListRun, namesOfRun, requireCondition, requireValue, tableOf } from './node-kind.ts';

/** `numeric`: every name enters as the number that it has in the given unit; `over`: the table at whose rows a formula is taken. */
export interface NumericOptions {
  readonly numeric?: ReadonlyMap<string, Unit> | undefined;
  readonly over?: string | undefined;
}

/**
 * The dimension of a formula's value; checks every name, dimension and argument on the way. With `numeric` the names are
 * pure numbers counted in stated units, as empirical formulas take them, and so is the result.
 */
export function inferDimension(
  formula: Formula,
  symbols: SymbolTable,
  options: NumericOptions = {},
): Reading<Dimension> {
  return attempt(() => {
    requireValue(formula.root, formula.text);
    return new DimensionCheck(formula, symbols, options).infer(formula.root);
  });
}

/** Checks the names, options and dimensions of a condition; undefined where nothing is wrong. */
export function checkCondition(
  formula: Formula,
  symbols: SymbolTable,
  options: NumericOptions = {},
): Problem | undefined {
  const reading = attempt(() => {
    requireCondition(formula.root, formula.text);
    new DimensionCheck(formula, symbols, options).check(formula.root);
  });
  return reading.ok ? undefined : reading.problem;
}

class DimensionCheck {
  readonly #text: string;
  readonly #symbols: SymbolTable;
  readonly #numeric: ReadonlyMap<string, Unit> | undefined;
  /** The tables of which one row is looked at. */
  #open: ReadonlySet<string>;

  constructor(formula: Formula, symbols: SymbolTable, { numeric, over }: NumericOptions) {
    this.#text = formula.text;
    this.#symbols = symbols;
    this.#numeric = numeric;
    this.#open = new Set(over === undefined ? [] : [over]);
  }

  infer(node: Node): Dimension {
    switch (node.type) {
      case 'number':
        return PURE_NUMBER;
      case 'quantity':
        if (this.#numeric && !isPure(node.unit.dimension)) {
          fail('quantity-in-numeric-formula', { text: node.text }, node.span);
        }
        return node.unit.dimension;
      case 'name':
        return this.#inferName(node);
      case 'negative':
        return this.infer(node.operand);
      case 'parentheses':
        return this.infer(node.inner);
      case 'binary':
        return this.#inferBinary(node);
      case 'call':
        return this.#inferCall(node);
      case 'cases':
        return this.#inferCases(node);
      default:
        return fail('condition-where-value', { text: this.#slice(node) }, node.span);
    }
  }

  /** Checks a condition: both sides of each comparison, names and options. */
  check(node: Node): void {
    switch (node.type) {
      case 'comparison':
        this.#requireEqual([node.left, node.right], 'compared');
        break;
      case 'choice':
        this.#checkChoice(node);
        break;
      case 'given':
        this.#find(node.name, node.span);
        break;
      case 'logic':
        this.check(node.left);
        this.check(node.right);
        break;
      case 'not':
        this.check(node.operand);
        break;
      case 'parentheses':
        this.check(node.inner);
        break;
      default:
        fail('value-where-condition', { text: this.#slice(node) }, node.span);
    }
  }

  #inferName(node: Node & { type: 'name' }): Dimension {
    const { name, span } = node;
    const symbol = this.#find(name, span);
    if (symbol.type === 'choice' || symbol.type === 'choices')
      return fail('choice-as-number', { name }, span);
    if (symbol.type === 'list' && !this.#open.has(tableOf(node))) fail('list-as-number', { name }, span);
    return this.#numeric ? this.#requireNumericUnit(name, symbol.dimension, span) : symbol.dimension;
  }

  #requireNumericUnit(name: string, dimension: Dimension, span: Span): Dimension {
    const unit = this.#numeric!.get(name);
    if (!unit) return fail('numeric-unit-missing', { name }, span);
    if (!sameDimension(unit.dimension, dimension)) {
      const [declared, unitDimension] = [nameDimension(dimension), nameDimension(unit.dimension)];
      fail('numeric-unit-dimension', { name, dimension: declared, unit: unit.text, unitDimension }, span);
    }
    return PURE_NUMBER;
  }

  #find(name: string, span: Span): SymbolInfo {
    const symbol = this.#symbols.get(name);
    if (symbol) return symbol;
    return fail(
      'unknown-symbol',
      { name, nearest: nearestName(name, this.#symbols.keys()), isUnit: UNIT_TABLE.has(name) },
      span,
    );
  }

  #checkChoice(node: Node & { type: 'choice' }): void {
    const { name, option, span } = node;
    const symbol = this.#find(name, span);
    if (symbol.type !== 'choice' && symbol.type !== 'choices') {
      fail('number-as-choice', { name, option }, span);
    }
    if (symbol.type === 'choices' && !this.#open.has(tableOf(node)))
      fail('choices-as-choice', { name }, span);
    if (symbol.options.includes(option)) return;
    const nearest = nearestName(option, symbol.options);
    fail(
      'no-such-option',
      { name, option, options: symbol.options, nearest },
      {
        start: span.end - option.length,
        end: span.end,
      },
    );
  }

  #inferBinary(node: Node & { type: 'binary' }): Dimension {
    const { operator, left, right } = node;
    if (operator === '+') return this.#requireEqual([left, right], 'added');
    if (operator === '-') return this.#requireEqual([left, right], 'subtracted');
    if (operator === '^') return this.#inferPower(left, right);
    const combine = operator === '*' ? multiply : divide;
    return combine(this.infer(left), this.infer(right));
  }

  #inferPower(base: Node, exponent: Node): Dimension {
    const dimension = this.infer(base);
    const exponentDimension = this.infer(exponent);
    if (!isPure(exponentDimension)) {
      const named = nameDimension(exponentDimension);
      fail('exponent-not-pure', { text: this.#slice(exponent), dimension: named }, exponent.span);
    }
    if (isPure(dimension)) return PURE_NUMBER;
    const value = constantValue(exponent, this.#text);
    if (value === undefined) {
      const [text, named] = [this.#slice(exponent), nameDimension(dimension)];
      return fail(
        'exponent-not-constant',
        { base: this.#slice(base), dimension: named, exponent: text },
        exponent.span,
      );
    }
    return power(dimension, value);
  }

  #inferCall(node: Node & { type: 'call' }): Dimension {
    const [argument] = node.arguments as readonly [Node];
    switch (node.function) {
      case 'count':
        return this.#inferCount(argument);
      case 'sum':
      case 'product':
      case 'min':
      case 'max':
        if (isListRun(node)) return this.#inferRun(node, argument);
        return this.#requireEqual(node.arguments, 'compared');
      case 'abs':
        return this.infer(argument);
      case 'sqrt':
        return power(this.infer(argument), 0.5);
      default:
        this.#requirePure(argument, node.function);
        return PURE_NUMBER;
    }
  }

  #inferCount(argument: Node): Dimension {
    if (argument.type !== 'name' || this.#find(argument.name, argument.span).type !== 'list') {
      fail('number-as-list', { function: 'count', text: this.#slice(argument) }, argument.span);
    }
    return PURE_NUMBER;
  }

  #inferRun(node: ListRun, argument: Node): Dimension {
    const outside = this.#open;
    this.#open = new Set([...outside, tableOf(node)]);
    const dimension = this.infer(argument);
    // A product has as many factors as there are rows: of what is not a pure number its dimension would depend on them.
    if (node.function === 'product') this.#requirePure(argument, 'product');
    this.#open = outside;
    const isListed = (name: string) => ['list', 'choices'].includes(this.#symbols.get(name)?.type ?? '');
    if (!namesOfRun(node).some(isListed)) {
      fail('number-as-list', { function: node.function, text: this.#slice(argument) }, argument.span);
    }
    return dimension;
  }

  #inferCases(node: Node & { type: 'cases' }): Dimension {
    for (const { when } of node.cases) this.check(when);
    const values = node.cases.map(({ value }) => value);
    return this.#requireEqual(node.otherwise ? [...values, node.otherwise] : values, 'cases of one value');
  }

  /** The common dimension of values that stand side by side. */
  #requireEqual(values: readonly Node[], doing: string): Dimension {
    const first = values[0]!;
    const dimension = this.infer(first);
    for (const other of values.slice(1)) {
      const actual = this.infer(other);
      if (sameDimension(dimension, actual)) continue;
      fail(
        'unequal-dimensions',
        {
          doing,
          left: this.#slice(first),
          leftDimension: nameDimension(dimension),
          right: this.#slice(other),
          rightDimension: nameDimension(actual),
        },
        { start: Math.min(first.span.start, other.span.start), end: other.span.end },
      );
    }
    return dimension;
  }

  #requirePure(argument: Node, name: string): void {
    const dimension = this.infer(argument);
    if (isPure(dimension)) return;
    const text = this.#slice(argument);
    fail('argument-not-pure', { function: name, text, dimension: nameDimension(dimension) }, argument.span);
  }

  #slice(node: Node): string {
    return this.#text.slice(node.span.start, node.span.end);
  }
}
