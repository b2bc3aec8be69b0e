import type { Displayed } from '../quantity/display.ts';
import type { Node, ShownValues, SymbolTable } from './formula.ts';
import { namesOfRun, withoutParentheses } from './node-kind.ts';
import { symbolStyle, texOfName } from './symbol-style.ts';
import { abridge, atom, delimit, joinTerms, LEVEL, type Piece, texWords } from './tex-piece.ts';
import { texDisplayed } from './typeset-number.ts';
import { type Style, Typesetter } from './typesetter.ts';

type Call = Extract<Node, { readonly type: 'call' }>;
type Choose = Style['choose'];

/** Formulas with numbers and units put in; a run over lists is written out item by item. */
export class NumberStyle implements Style {
  readonly choose: Choose;
  readonly #symbols: SymbolTable;
  readonly #shown: ShownValues;
  readonly #item: number | undefined;

  constructor(symbols: SymbolTable, shown: ShownValues, choose: Choose, item?: number) {
    this.#symbols = symbols;
    this.#shown = shown;
    this.choose = choose;
    this.#item = item;
  }

  name(name: string): Piece {
    const shown = this.#shown.get(name);
    if (shown === undefined) return atom(this.symbol(name));
    if (typeof shown === 'string') return atom(texWords(shown));
    if (!isList(shown)) return texDisplayed(shown);
    const item = this.#item === undefined ? undefined : shown[this.#item];
    return item ? texDisplayed(item) : atom(this.symbol(name));
  }

  symbol(name: string): string {
    return texOfName(name, this.#symbols);
  }

  run(node: Call, typesetter: Typesetter): Piece {
    const argument = node.arguments[0]!;
    const length = this.#lengthOfRun(argument);
    if (length === undefined) return symbolStyle(this.#symbols).run(node, typesetter);
    const items = Array.from({ length }, (_, item) => this.#atItem(item));
    if (node.function === 'sum') return joinTerms(items.map((item) => item.piece(argument)));
    const written = items.map((item) => item.whole(argument));
    return { tex: `\\${node.function}${delimit(abridge(written).join(',\\, '))}`, level: LEVEL.call };
  }

  count(name: string): Piece {
    const shown = this.#shown.get(name);
    return isList(shown) ? atom(String(shown.length)) : symbolStyle(this.#symbols).count(name);
  }

  between(): string {
    return ' \\cdot ';
  }

  #atItem(item: number): Typesetter {
    return new Typesetter(new NumberStyle(this.#symbols, this.#shown, this.choose, item));
  }

  #lengthOfRun(argument: Node): number | undefined {
    for (const name of namesOfRun(withoutParentheses(argument))) {
      const shown = this.#shown.get(name);
      if (isList(shown)) return shown.length;
    }
    return undefined;
  }
}

function isList(shown: Displayed | readonly Displayed[] | string | undefined): shown is readonly Displayed[] {
  return Array.isArray(shown);
}
