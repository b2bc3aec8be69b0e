import type { Displayed } from '../quantity/display.ts';
import type { Node, RowPoint, ShownValues, SymbolTable } from './formula.ts';
import { abridge, atom, type Joinable, joinFactors, joinTerms, LEVEL, numberOf } from './joinable.ts';
import type { MathPiece, Sign } from './math-piece.ts';
import { type ListRun, namesOfRun, tableOf } from './node-kind.ts';
import { displayedPiece } from './number-pieces.ts';
import { symbolOfName, symbolStyle } from './symbol-style.ts';
import { type Style, Typesetter } from './typesetter.ts';

type Cases = Extract<Node, { readonly type: 'cases' }>;
/** The value of cases that alone is printed, at a row of each table; undefined prints them all. */
type Choose = (node: Cases, rows: RowPoint) => Node | undefined;

/** Formulas with numbers and units put in; a run over lists is written out item by item. */
export class NumberStyle implements Style {
  readonly #choose: Choose;
  readonly #symbols: SymbolTable;
  readonly #shown: ShownValues;
  readonly #rows: RowPoint;

  constructor(symbols: SymbolTable, shown: ShownValues, choose: Choose, rows: RowPoint = new Map()) {
    this.#symbols = symbols;
    this.#shown = shown;
    this.#choose = choose;
    this.#rows = rows;
  }

  choose(node: Cases): Node | undefined {
    return this.#choose(node, this.#rows);
  }

  name(node: Extract<Node, { readonly type: 'name' }>): Joinable {
    const { name } = node;
    const shown = this.#shown.get(name);
    if (shown === undefined) return atom(this.symbol(name));
    if (typeof shown === 'string') return atom({ type: 'words', words: shown });
    if (!isList(shown)) return displayedPiece(shown);
    const row = this.#rows.get(tableOf(node));
    const item = row === undefined ? undefined : shown[row];
    if (typeof item === 'string') return atom({ type: 'words', words: item });
    return item ? displayedPiece(item) : atom(this.symbol(name));
  }

  symbol(name: string): MathPiece {
    return symbolOfName(name, this.#symbols);
  }

  run(node: ListRun, typesetter: Typesetter): Joinable {
    const argument = node.arguments[0]!;
    const length = this.#lengthOfRun(node);
    if (length === undefined) return symbolStyle(this.#symbols).run(node, typesetter);
    const items = Array.from({ length }, (_, row) => this.#atRow(tableOf(node), row));
    if (node.function === 'sum') return joinTerms(items.map((item) => item.piece(argument)));
    if (node.function === 'product') return joinFactors(items.map((item) => item.piece(argument)));
    const written = items.map((item) => item.whole(argument));
    return {
      math: { type: 'call', function: node.function, arguments: abridge(written), grows: 'as needed' },
      level: LEVEL.call,
    };
  }

  count(name: string): Joinable {
    const shown = this.#shown.get(name);
    return isList(shown) ? atom(numberOf(shown.length)) : symbolStyle(this.#symbols).count(name);
  }

  between(): Sign {
    return 'dot';
  }

  #atRow(table: string, row: number): Typesetter {
    const rows = new Map(this.#rows).set(table, row);
    return new Typesetter(new NumberStyle(this.#symbols, this.#shown, this.#choose, rows));
  }

  #lengthOfRun(run: ListRun): number | undefined {
    for (const name of namesOfRun(run)) {
      const shown = this.#shown.get(name);
      if (isList(shown)) return shown.length;
    }
    return undefined;
  }
}

type Shown = ShownValues extends ReadonlyMap<string, infer Value> ? Value : never;

function isList(shown: Shown | undefined): shown is readonly Displayed[] | readonly string[] {
  return Array.isArray(shown);
}
