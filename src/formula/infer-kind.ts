import { type Problem, problem } from '../diagnostics/problem.ts';
import {
  type Dimension,
  isPure,
  multiply,
  PURE_NUMBER,
  power,
  sameDimension,
} from '../quantity/dimension.ts';
import {
  ASPECTS,
  describeAspect,
  type KindCell,
  type KindReason,
  type KindTerm,
  kindCell,
  kindTerm,
} from '../quantity/kind-term.ts';
import { type Aspect, CURRENT, hasKind, VOLTAGE } from '../quantity/voltage-kind.ts';
import { constantValue } from './evaluate-formula.ts';
import type { Formula, Node, SymbolTable } from './formula.ts';
import { type Carried, type Factor, kindOfProduct, type Leg } from './kind-of-product.ts';
import { isCondition } from './node-kind.ts';

/** The kind of a formula's value, or a contradiction in it, with what settled the kinds that contradict each other. */
export type KindReading =
  | { readonly ok: true; readonly term: KindTerm | undefined }
  | { readonly ok: false; readonly problem: Problem; readonly because: readonly KindReason[] };

/**
 * The kind of a formula's value: peak or r.m.s., and between what. Names carry theirs (`kinds`); a pure factor keeps it, except
 * sqrt(2) and sqrt(3) where these convert it; what is added or compared must be of one kind, and so must the two parts
 * of a ratio. The value of a condition, and any other than a voltage or current, has no term. What is learnt of an open
 * term on the way stays with it. The formula must have passed `inferDimension`.
 */
export function inferKind(
  formula: Formula,
  symbols: SymbolTable,
  kinds: ReadonlyMap<string, KindTerm>,
): KindReading {
  const open = openKind(formula, symbols);
  if (open) return open.hasKind ? { ok: true, term: kindTerm() } : NO_KIND;
  return infer(formula, symbols, kinds);
}

function infer(formula: Formula, symbols: SymbolTable, kinds: ReadonlyMap<string, KindTerm>): KindReading {
  const inference = new KindInference(formula, symbols, kinds);
  try {
    if (isCondition(formula.root)) {
      inference.check(formula.root);
      return NO_KIND;
    }
    return { ok: true, term: inference.term(formula.root) };
  } catch (error) {
    if (error instanceof Contradiction) return { ok: false, problem: error.problem, because: error.because };
    throw error;
  }
}

const NO_KIND: KindReading = { ok: true, term: undefined };

/** Of a formula in which no name carries a kind, whether its value has one, which is then open. */
interface OpenKind {
  readonly symbols: SymbolTable;
  readonly open: { readonly hasKind: boolean } | undefined;
}

const OPEN_KINDS = new WeakMap<Formula, OpenKind>();

/** What holds of a formula whatever is known of kinds, which is most of conditions; undefined where they matter. */
function openKind(formula: Formula, symbols: SymbolTable): OpenKind['open'] {
  const known = OPEN_KINDS.get(formula);
  if (known && known.symbols === symbols) return known.open;
  const open = findOpenKind(formula, symbols);
  OPEN_KINDS.set(formula, { symbols, open });
  return open;
}

function findOpenKind(formula: Formula, symbols: SymbolTable): OpenKind['open'] {
  const carriesKind = (name: string): boolean => {
    const symbol = symbols.get(name);
    return symbol !== undefined && 'dimension' in symbol && hasKind(symbol.dimension);
  };
  if (formula.names.some(carriesKind)) return undefined;
  const reading = infer(formula, symbols, new Map());
  if (!reading.ok) return undefined;
  const { term } = reading;
  if (!term) return { hasKind: false };
  return ASPECTS.every((aspect) => isOpen(aspect, term[aspect])) ? { hasKind: true } : undefined;
}

function isOpen(aspect: Aspect, { possible }: KindCell): boolean {
  return possible.length === kindCell(aspect).possible.length;
}

/** A factor of a product, or a factor sqrt(2) or sqrt(3), which may convert: how often, negative where it divides. */
type Part = Factor | { readonly converts: Aspect; readonly times: number };

function timesConverted(aspect: Aspect, parts: readonly Part[]): number {
  return parts.reduce(
    (sum, part) => sum + ('converts' in part && part.converts === aspect ? part.times : 0),
    0,
  );
}

const CONVERTING: Readonly<Record<number, Aspect>> = { 2: 'measure', 3: 'between' };

class Contradiction extends Error {
  readonly problem: Problem;
  readonly because: readonly KindReason[];

  constructor(fault: Problem, because: readonly KindReason[]) {
    super(fault.code);
    this.problem = fault;
    this.because = because;
  }
}

class KindInference {
  readonly #text: string;
  readonly #symbols: SymbolTable;
  readonly #kinds: ReadonlyMap<string, KindTerm>;

  constructor({ text }: Formula, symbols: SymbolTable, kinds: ReadonlyMap<string, KindTerm>) {
    this.#text = text;
    this.#symbols = symbols;
    this.#kinds = kinds;
  }

  term(node: Node): KindTerm | undefined {
    const { dimension, measure, between } = this.#infer(node);
    if (!hasKind(dimension)) return undefined;
    return { measure: measure?.cell ?? kindCell('measure'), between: between?.cell ?? kindCell('between') };
  }

  /** Examines a condition: both sides of each comparison are of one kind. */
  check(node: Node): void {
    if (node.type === 'comparison') this.#alike([node.left, node.right], 'compared');
    else if (node.type === 'logic') {
      this.check(node.left);
      this.check(node.right);
    } else if (node.type === 'not') this.check(node.operand);
    else if (node.type === 'parentheses') this.check(node.inner);
  }

  #infer(node: Node): Carried {
    switch (node.type) {
      case 'name':
        return this.#name(node.name);
      case 'quantity':
        return settle({ dimension: node.unit.dimension });
      case 'negative':
        return this.#infer(node.operand);
      case 'parentheses':
        return this.#infer(node.inner);
      case 'binary':
        if (node.operator === '+') return this.#alike([node.left, node.right], 'added');
        if (node.operator === '-') return this.#alike([node.left, node.right], 'subtracted');
        return this.#product(node);
      case 'call':
        return this.#call(node);
      case 'cases': {
        for (const { when } of node.cases) this.check(when);
        const values = node.cases.map(({ value }) => value);
        return this.#alike(node.otherwise ? [...values, node.otherwise] : values, 'cases of one value');
      }
      default:
        return { dimension: PURE_NUMBER };
    }
  }

  #name(name: string): Carried {
    const symbol = this.#symbols.get(name);
    if (!symbol || symbol.type === 'choice' || symbol.type === 'choices') return { dimension: PURE_NUMBER };
    const { dimension } = symbol;
    const term = this.#kinds.get(name);
    if (!term || !hasKind(dimension)) return settle({ dimension });
    const measure = { degree: 1, cell: term.measure };
    return settle({ dimension, measure, between: { degree: 1, cell: term.between } });
  }

  #call(node: Node & { type: 'call' }): Carried {
    switch (node.function) {
      case 'sum':
      case 'min':
      case 'max':
        return this.#alike(node.arguments, 'compared');
      case 'abs':
        return this.#infer(node.arguments[0]!);
      case 'sqrt':
        return this.#product(node);
      case 'count':
        return { dimension: PURE_NUMBER };
      default:
        for (const argument of node.arguments) this.#infer(argument);
        return { dimension: PURE_NUMBER };
    }
  }

  /** Values that stand side by side are of one kind, which is that of all of them. */
  #alike(nodes: readonly Node[], doing: string): Carried {
    const [first, ...others] = nodes as readonly [Node, ...Node[]];
    let common = this.#infer(first);
    for (const other of others) {
      const value = this.#infer(other);
      for (const aspect of ASPECTS) this.#join(aspect, [first, common], [other, value], doing);
      common = { ...value, ...common };
    }
    return common;
  }

  #join(aspect: Aspect, [left, a]: [Node, Carried], [right, b]: [Node, Carried], doing: string): void {
    const [p, q] = [a[aspect], b[aspect]];
    if (!p || !q || p.degree !== q.degree) return;
    this.#same(aspect, { node: left, cell: p.cell }, { node: right, cell: q.cell }, doing);
  }

  #same(
    aspect: Aspect,
    left: { readonly node: Node; readonly cell: KindCell },
    right: { readonly node: Node; readonly cell: KindCell },
    doing: string,
  ): void {
    if (left.cell.agreesWith(right.cell)) {
      left.cell.join(right.cell);
      return;
    }
    const [first, second] = [left.node.span, right.node.span];
    const span = { start: Math.min(first.start, second.start), end: Math.max(first.end, second.end) };
    const fault = problem(
      'contradicting-kinds',
      {
        doing,
        left: this.#slice(left.node),
        leftKind: describeAspect(aspect, left.cell),
        right: this.#slice(right.node),
        rightKind: describeAspect(aspect, right.cell),
        aspect,
      },
      span,
    );
    throw new Contradiction(
      fault,
      [left.cell.reason, right.cell.reason].filter((r) => r !== undefined),
    );
  }

  /** Products, quotients, powers and roots are taken apart together: a conversion may stand anywhere among the factors. */
  #product(node: Node): Carried {
    const parts = this.#takeApart(node, 1, false);
    const factors = parts.filter((part) => 'value' in part);
    const dimension = factors.reduce<Dimension>(
      (product, { value, exponent }) => multiply(product, power(value.dimension, exponent)),
      PURE_NUMBER,
    );
    const legs = ASPECTS.map((aspect) => {
      const { leg, unlike } = kindOfProduct(aspect, factors, timesConverted(aspect, parts));
      if (unlike) this.#same(aspect, unlike[0], unlike[1], 'set in a ratio');
      return [aspect, leg] as const;
    });
    return settle({ dimension, ...Object.fromEntries(legs.filter(([, leg]) => leg !== undefined)) });
  }

  #takeApart(node: Node, exponent: number, inRoot: boolean): Part[] {
    switch (node.type) {
      case 'parentheses':
        return this.#takeApart(node.inner, exponent, inRoot);
      case 'negative':
        return this.#takeApart(node.operand, exponent, inRoot);
      case 'number': {
        const aspect = inRoot ? CONVERTING[node.value] : undefined;
        return aspect ? [{ converts: aspect, times: 2 * exponent }] : [];
      }
      case 'binary':
        return this.#takeBinaryApart(node, exponent, inRoot);
      case 'call':
        if (node.function === 'sqrt') return this.#takeApart(node.arguments[0]!, exponent / 2, true);
        break;
    }
    return [{ node, exponent, value: this.#infer(node) }];
  }

  #takeBinaryApart(node: Node & { type: 'binary' }, exponent: number, inRoot: boolean): Part[] {
    const { operator, left, right } = node;
    if (operator === '+' || operator === '-') return [{ node, exponent, value: this.#infer(node) }];
    if (operator !== '^') {
      const sign = operator === '*' ? 1 : -1;
      return [...this.#takeApart(left, exponent, inRoot), ...this.#takeApart(right, sign * exponent, inRoot)];
    }
    const raised = constantValue(right, this.#text);
    if (raised !== undefined) {
      return this.#takeApart(left, exponent * raised, inRoot || Math.abs(raised) === 0.5);
    }
    // Only pure numbers are raised to powers that vary; what stands within is examined all the same.
    this.#infer(left);
    this.#infer(right);
    return [];
  }

  #slice(node: Node): string {
    return this.#text.slice(node.span.start, node.span.end);
  }
}

/** A voltage or current has a kind, open where nothing is known; a current stands between nothing, a pure number has none. */
function settle(value: Carried): Carried {
  const { dimension, measure, between } = value;
  if (isPure(dimension)) return { dimension };
  const single = (aspect: Aspect, leg: Leg | undefined): Leg =>
    leg && Math.abs(leg.degree - 1) < 1e-9 ? leg : { degree: 1, cell: kindCell(aspect) };
  if (sameDimension(dimension, CURRENT)) return { dimension, measure: single('measure', measure) };
  if (!sameDimension(dimension, VOLTAGE)) return value;
  return { dimension, measure: single('measure', measure), between: single('between', between) };
}
