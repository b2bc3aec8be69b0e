import type { Node } from './formula.ts';
import { atLeast, atom, behindOperator, inParentheses, type Joinable, LEVEL } from './joinable.ts';
import { enclosed, type MathPiece, rowOf, type Sign, sign } from './math-piece.ts';
import { isTall } from './math-shape.ts';
import { isListRun, type ListRun, withoutParentheses } from './node-kind.ts';
import { writtenNumber, writtenQuantity } from './number-pieces.ts';

type Call = Extract<Node, { readonly type: 'call' }>;
type Cases = Extract<Node, { readonly type: 'cases' }>;

type Name = Extract<Node, { readonly type: 'name' }>;

/** In what the line with symbols and the line with numbers differ. */
export interface Style {
  readonly name: (node: Name) => Joinable;
  /** The symbol of a choice, or of a value that is asked for with `given`. */
  readonly symbol: (name: string) => MathPiece;
  readonly run: (node: ListRun, typesetter: Typesetter) => Joinable;
  readonly count: (name: string) => Joinable;
  /** The value of cases that alone is printed; undefined prints them all. */
  readonly choose: (node: Cases) => Node | undefined;
  readonly between: (left: Joinable, right: Joinable) => Sign;
}

/** Walks a formula and lays it out; the author's parentheses stay, except around what a fraction, root or function encloses. */
export class Typesetter {
  readonly #style: Style;

  constructor(style: Style) {
    this.#style = style;
  }

  piece(node: Node): Joinable {
    switch (node.type) {
      case 'number':
        return writtenNumber(node.text);
      case 'quantity':
        return writtenQuantity(node.text, node.unit);
      case 'name':
        return this.#style.name(node);
      case 'negative':
        return { math: negative(behindOperator(this.piece(node.operand)).math), level: LEVEL.negative };
      case 'parentheses':
        return this.#parentheses(node);
      case 'binary':
        return this.#binary(node);
      case 'call':
        return this.#call(node);
      case 'cases':
        return this.#cases(node);
      default:
        return { math: this.#condition(node), level: LEVEL.sum };
    }
  }

  /** Of cases of which one is chosen that one alone stands there: it gets parentheses only where it needs them. */
  #parentheses(node: Node & { type: 'parentheses' }): Joinable {
    const inner = withoutParentheses(node);
    const chosen = inner.type === 'cases' ? this.#style.choose(inner) : undefined;
    return chosen ? this.piece(chosen) : inParentheses(this.piece(node.inner));
  }

  /** A part that is enclosed by what it is part of: its outer parentheses fall away. */
  whole(node: Node): MathPiece {
    return this.piece(withoutParentheses(node)).math;
  }

  #binary(node: Node & { type: 'binary' }): Joinable {
    switch (node.operator) {
      case '+':
      case '-': {
        const right = behindOperator(this.piece(node.right));
        return {
          math: rowOf([this.piece(node.left).math, sign(node.operator), right.math]),
          level: LEVEL.sum,
        };
      }
      case '*':
        return this.#product(factorsOf(node).map((factor) => this.piece(factor)));
      case '/':
        return {
          math: { type: 'fraction', above: this.whole(node.left), below: this.whole(node.right) },
          level: LEVEL.call,
        };
      case '^':
        return this.#power(node);
    }
  }

  #product(factors: readonly Joinable[]): Joinable {
    const last = factors.length - 1;
    const written = factors.map((factor, i) => {
      if (i > 0 && factor.level <= LEVEL.negative) return inParentheses(factor);
      const open = factor.level === LEVEL.sum || (factor.level === LEVEL.open && i < last);
      return open ? inParentheses(factor) : factor;
    });
    const parts = written.flatMap((factor, i) =>
      i === 0 ? [factor.math] : [sign(this.#style.between(written[i - 1]!, factor)), factor.math],
    );
    const negative = written[0]!.level === LEVEL.negative;
    const open = written[last]!.level === LEVEL.open;
    return {
      math: rowOf(parts),
      level: negative ? LEVEL.negative : open ? LEVEL.open : LEVEL.product,
      endsWithUnit: written[last]!.endsWithUnit ?? false,
    };
  }

  #power(node: Node & { type: 'binary' }): Joinable {
    const base = atLeast(this.piece(node.left), LEVEL.atom).math;
    const exponent = this.#exponent(withoutParentheses(node.right));
    return { math: { type: 'power', base, exponent }, level: LEVEL.call };
  }

  /** A quotient of single signs is written with a stroke in an exponent, where a fraction would be too small. */
  #exponent(node: Node): MathPiece {
    if (node.type === 'negative') {
      const operand = node.operand.type === 'parentheses' ? this.piece(node.operand).math : undefined;
      return negative(operand ?? this.#exponent(node.operand));
    }
    if (node.type === 'binary' && node.operator === '/') {
      const [over, under] = [this.piece(node.left), this.piece(node.right)];
      const single = over.level === LEVEL.atom && under.level === LEVEL.atom;
      const inLine = rowOf([over.math, sign('stroke'), under.math]);
      if (single && !isTall(inLine)) return inLine;
    }
    return this.piece(node).math;
  }

  #call(node: Call): Joinable {
    if (isListRun(node)) return this.#style.run(node, this);
    const [first] = node.arguments as readonly [Node];
    switch (node.function) {
      case 'count':
        return first.type === 'name' ? this.#style.count(first.name) : this.piece(first);
      case 'sqrt':
        return { math: { type: 'root', radicand: this.whole(first) }, level: LEVEL.call };
      case 'abs':
        return between('|', this.whole(first), '|');
      case 'floor':
        return between('\\lfloor', this.whole(first), '\\rfloor');
      case 'ceil':
        return between('\\lceil', this.whole(first), '\\rceil');
      default: {
        const values = node.arguments.map((argument) => this.whole(argument));
        return {
          math: { type: 'call', function: node.function, arguments: values, grows: 'as needed' },
          level: LEVEL.call,
        };
      }
    }
  }

  #cases(node: Cases): Joinable {
    const chosen = this.#style.choose(node);
    if (chosen) return this.piece(chosen);
    const lines = node.cases.map(({ value, when }) => [
      this.piece(value).math,
      rowOf([words('if '), this.#condition(when)]),
    ]);
    if (node.otherwise) lines.push([this.piece(node.otherwise).math, words('otherwise')]);
    return atom({ type: 'cases', lines });
  }

  #condition(node: Node): MathPiece {
    switch (node.type) {
      case 'comparison':
        return rowOf([this.piece(node.left).math, sign(node.operator), this.piece(node.right).math]);
      case 'choice':
        return rowOf([this.#style.symbol(node.name), sign('='), words(optionWords(node.option))]);
      case 'given':
        return rowOf([this.#style.symbol(node.name), sign('blank'), words('is given')]);
      case 'logic':
        return rowOf([
          this.#condition(node.left),
          sign('blank'),
          words(node.operator),
          sign('blank'),
          this.#condition(node.right),
        ]);
      case 'not':
        return this.#negation(node.operand);
      default:
        return this.piece(node).math;
    }
  }

  #negation(operand: Node): MathPiece {
    if (operand.type === 'choice') {
      return rowOf([this.#style.symbol(operand.name), sign('!='), words(optionWords(operand.option))]);
    }
    if (operand.type === 'given') {
      return rowOf([this.#style.symbol(operand.name), sign('blank'), words('is not given')]);
    }
    const condition = this.#condition(withoutParentheses(operand));
    return rowOf([words('not'), sign('blank'), enclosed(condition)]);
  }
}

/** An option is a name of the source; in print its words stand apart: 'average-panic' as 'average panic', but '3-wire'. */
function optionWords(option: string): string {
  return option.replaceAll(/(?<=[a-z])-/g, ' ');
}

function words(text: string): MathPiece {
  return { type: 'words', words: text };
}

function negative(operand: MathPiece): MathPiece {
  return rowOf([sign('negative'), operand]);
}

/** Between delimiters that always grow, as bars do. */
function between(opening: string, inner: MathPiece, closing: string): Joinable {
  return atom({ type: 'enclosed', opening, closing, inner, grows: 'always' });
}

/** The factors of a product as they stand in the text: a * b * c are three, a * (b * c) are two. */
function factorsOf(node: Node): Node[] {
  if (node.type !== 'binary' || node.operator !== '*') return [node];
  return [...factorsOf(node.left), node.right];
}
