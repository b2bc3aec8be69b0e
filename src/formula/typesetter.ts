import type { Comparison, FunctionName, Node } from './formula.ts';
import { isListRun, type ListRun, withoutParentheses } from './node-kind.ts';
import {
  atLeast,
  atom,
  behindOperator,
  delimit,
  inParentheses,
  isTall,
  LEVEL,
  type Piece,
  texWords,
} from './tex-piece.ts';
import { texNumber, texQuantity } from './typeset-number.ts';

type Call = Extract<Node, { readonly type: 'call' }>;
type Cases = Extract<Node, { readonly type: 'cases' }>;

type Name = Extract<Node, { readonly type: 'name' }>;

/** In what the line with symbols and the line with numbers differ. */
export interface Style {
  readonly name: (node: Name) => Piece;
  /** The symbol of a choice, or of a value that is asked for with `given`. */
  readonly symbol: (name: string) => string;
  readonly run: (node: ListRun, typesetter: Typesetter) => Piece;
  readonly count: (name: string) => Piece;
  /** The value of cases that alone is printed; undefined prints them all. */
  readonly choose: (node: Cases) => Node | undefined;
  readonly between: (left: Piece, right: Piece) => string;
}

const COMPARISONS: Readonly<Record<Comparison, string>> = {
  '<': '<',
  '<=': '\\le',
  '>': '>',
  '>=': '\\ge',
  '=': '=',
  '!=': '\\ne',
};

const FUNCTIONS: Partial<Record<FunctionName, string>> = {
  log10: '\\log_{10}',
  asin: '\\arcsin',
  acos: '\\arccos',
  atan: '\\arctan',
  asinh: '\\operatorname{arsinh}',
  acosh: '\\operatorname{arcosh}',
};

/** Walks a formula and writes it as LaTeX; the author's parentheses stay, except around what LaTeX encloses itself. */
export class Typesetter {
  readonly #style: Style;

  constructor(style: Style) {
    this.#style = style;
  }

  piece(node: Node): Piece {
    switch (node.type) {
      case 'number':
        return texNumber(node.text);
      case 'quantity':
        return texQuantity(node.text, node.unit);
      case 'name':
        return this.#style.name(node);
      case 'negative':
        return { tex: `-${behindOperator(this.piece(node.operand)).tex}`, level: LEVEL.negative };
      case 'parentheses':
        return this.#parentheses(node);
      case 'binary':
        return this.#binary(node);
      case 'call':
        return this.#call(node);
      case 'cases':
        return this.#cases(node);
      default:
        return { tex: this.#condition(node), level: LEVEL.sum };
    }
  }

  /** Of cases of which one is chosen that one alone stands there: it gets parentheses only where it needs them. */
  #parentheses(node: Node & { type: 'parentheses' }): Piece {
    const inner = withoutParentheses(node);
    const chosen = inner.type === 'cases' ? this.#style.choose(inner) : undefined;
    return chosen ? this.piece(chosen) : inParentheses(this.piece(node.inner));
  }

  /** A part that LaTeX encloses by itself: its outer parentheses fall away. */
  whole(node: Node): string {
    return this.piece(withoutParentheses(node)).tex;
  }

  #binary(node: Node & { type: 'binary' }): Piece {
    switch (node.operator) {
      case '+':
      case '-': {
        const right = behindOperator(this.piece(node.right));
        return { tex: `${this.piece(node.left).tex} ${node.operator} ${right.tex}`, level: LEVEL.sum };
      }
      case '*':
        return this.#product(factorsOf(node).map((factor) => this.piece(factor)));
      case '/':
        return { tex: `\\frac{${this.whole(node.left)}}{${this.whole(node.right)}}`, level: LEVEL.call };
      case '^':
        return this.#power(node);
    }
  }

  #product(factors: readonly Piece[]): Piece {
    const last = factors.length - 1;
    const written = factors.map((factor, i) => {
      if (i > 0 && factor.level <= LEVEL.negative) return inParentheses(factor);
      const open = factor.level === LEVEL.sum || (factor.level === LEVEL.open && i < last);
      return open ? inParentheses(factor) : factor;
    });
    const tex = written.reduce(
      (line, factor, i) =>
        i === 0 ? factor.tex : line + this.#style.between(written[i - 1]!, factor) + factor.tex,
      '',
    );
    const negative = written[0]!.level === LEVEL.negative;
    const open = written[last]!.level === LEVEL.open;
    return {
      tex,
      level: negative ? LEVEL.negative : open ? LEVEL.open : LEVEL.product,
      endsWithUnit: written[last]!.endsWithUnit ?? false,
    };
  }

  #power(node: Node & { type: 'binary' }): Piece {
    const base = atLeast(this.piece(node.left), LEVEL.atom).tex;
    // A second superscript on one sign is an error in LaTeX: braces make the base a sign of its own.
    const guarded = SUPERSCRIPT.test(base) && !/^(?:\\left)?[([|]/.test(base) ? `{${base}}` : base;
    return { tex: `${guarded}^{${this.#exponent(withoutParentheses(node.right))}}`, level: LEVEL.call };
  }

  /** A quotient of single signs is written with a stroke in an exponent, where a fraction would be too small. */
  #exponent(node: Node): string {
    if (node.type === 'negative') {
      const operand = node.operand.type === 'parentheses' ? this.piece(node.operand).tex : undefined;
      return `-${operand ?? this.#exponent(node.operand)}`;
    }
    if (node.type === 'binary' && node.operator === '/') {
      const [over, under] = [this.piece(node.left), this.piece(node.right)];
      const single = over.level === LEVEL.atom && under.level === LEVEL.atom;
      if (single && !isTall(over.tex + under.tex)) return `${over.tex}/${under.tex}`;
    }
    return this.piece(node).tex;
  }

  #call(node: Call): Piece {
    if (isListRun(node)) return this.#style.run(node, this);
    const [first] = node.arguments as readonly [Node];
    switch (node.function) {
      case 'count':
        return first.type === 'name' ? this.#style.count(first.name) : this.piece(first);
      case 'sqrt':
        return { tex: `\\sqrt{${this.whole(first)}}`, level: LEVEL.call };
      case 'abs':
        return atom(`\\left| ${this.whole(first)} \\right|`);
      case 'floor':
        return atom(`\\left\\lfloor ${this.whole(first)} \\right\\rfloor`);
      case 'ceil':
        return atom(`\\left\\lceil ${this.whole(first)} \\right\\rceil`);
      default: {
        const values = node.arguments.map((argument) => this.whole(argument)).join(',\\, ');
        const name = FUNCTIONS[node.function] ?? `\\${node.function}`;
        return { tex: name + delimit(values), level: LEVEL.call };
      }
    }
  }

  #cases(node: Cases): Piece {
    const chosen = this.#style.choose(node);
    if (chosen) return this.piece(chosen);
    const lines = node.cases.map(
      ({ value, when }) => `${this.piece(value).tex} & \\text{if } ${this.#condition(when)}`,
    );
    if (node.otherwise) lines.push(`${this.piece(node.otherwise).tex} & \\text{otherwise}`);
    const environment = lines.some(isTall) ? 'dcases' : 'cases';
    return {
      tex: `\\begin{${environment}} ${lines.join(' \\\\ ')} \\end{${environment}}`,
      level: LEVEL.atom,
    };
  }

  #condition(node: Node): string {
    switch (node.type) {
      case 'comparison':
        return `${this.piece(node.left).tex} ${COMPARISONS[node.operator]} ${this.piece(node.right).tex}`;
      case 'choice':
        return `${this.#style.symbol(node.name)} = ${texWords(node.option)}`;
      case 'given':
        return `${this.#style.symbol(node.name)}\\ \\text{is given}`;
      case 'logic':
        return `${this.#condition(node.left)}\\ \\text{${node.operator}}\\ ${this.#condition(node.right)}`;
      case 'not':
        return this.#negation(node.operand);
      default:
        return this.piece(node).tex;
    }
  }

  #negation(operand: Node): string {
    if (operand.type === 'choice') {
      return `${this.#style.symbol(operand.name)} \\ne ${texWords(operand.option)}`;
    }
    if (operand.type === 'given') return `${this.#style.symbol(operand.name)}\\ \\text{is not given}`;
    return `\\text{not}\\ ${delimit(this.#condition(withoutParentheses(operand)))}`;
  }
}

/** A raised sign, also where it is a character of its own, as in 'd²'. */
const SUPERSCRIPT = /[\^'\u2032\u00b2\u00b3\u00b9\u2070-\u209f\u1d2c-\u1d6a]/;

/** The factors of a product as they stand in the text: a * b * c are three, a * (b * c) are two. */
function factorsOf(node: Node): Node[] {
  if (node.type !== 'binary' || node.operator !== '*') return [node];
  return [...factorsOf(node.left), node.right];
}
