import type { Span } from '../diagnostics/place.ts';
import type { Dimension } from '../quantity/dimension.ts';
import type { Displayed } from '../quantity/display.ts';
import type { Unit } from '../quantity/unit.ts';

/** Functions of the language that take expressions. `sum` and `product` run over lists; `min` and `max` with one argument too. */
export type FunctionName =
  | 'sqrt'
  | 'exp'
  | 'ln'
  | 'log10'
  | 'abs'
  | 'min'
  | 'max'
  | 'sum'
  | 'product'
  | 'count'
  | 'sin'
  | 'cos'
  | 'tan'
  | 'asin'
  | 'acos'
  | 'atan'
  | 'sinh'
  | 'cosh'
  | 'tanh'
  | 'asinh'
  | 'acosh'
  | 'floor'
  | 'ceil';

export type Comparison = '<' | '<=' | '>' | '>=' | '=' | '!=';

/**
 * A node of a parsed formula; every node knows its stretch of the text. `over` is the table to whose rows a name belongs, or
 * over whose rows a function runs; without it, lists that belong to no table are meant. The parser knows only what is
 * written (`sum(x over lines)`); `bindRows` adds the rest from the declared symbols.
 */
export type Node =
  | { readonly type: 'number'; readonly text: string; readonly value: number; readonly span: Span }
  | {
      readonly type: 'quantity';
      readonly text: string;
      readonly value: number;
      readonly unit: Unit;
      readonly span: Span;
    }
  | { readonly type: 'name'; readonly name: string; readonly over?: string; readonly span: Span }
  | { readonly type: 'negative'; readonly operand: Node; readonly span: Span }
  | {
      readonly type: 'binary';
      readonly operator: '+' | '-' | '*' | '/' | '^';
      readonly left: Node;
      readonly right: Node;
      readonly span: Span;
    }
  | {
      readonly type: 'call';
      readonly function: FunctionName;
      readonly arguments: readonly Node[];
      readonly over?: string;
      /** The letter of the running index. */
      readonly index?: string;
      readonly span: Span;
    }
  | { readonly type: 'parentheses'; readonly inner: Node; readonly span: Span }
  | {
      readonly type: 'cases';
      readonly cases: readonly Case[];
      readonly otherwise?: Node;
      readonly span: Span;
    }
  | {
      readonly type: 'comparison';
      readonly operator: Comparison;
      readonly left: Node;
      readonly right: Node;
      readonly span: Span;
    }
  | {
      readonly type: 'choice';
      readonly name: string;
      readonly option: string;
      readonly over?: string;
      readonly span: Span;
    }
  | { readonly type: 'given'; readonly name: string; readonly span: Span }
  | {
      readonly type: 'logic';
      readonly operator: 'and' | 'or';
      readonly left: Node;
      readonly right: Node;
      readonly span: Span;
    }
  | { readonly type: 'not'; readonly operand: Node; readonly span: Span };

export interface Case {
  readonly value: Node;
  readonly when: Node;
}

/** One formula text, parsed once: checked, evaluated and typeset from the same tree. */
export interface Formula {
  readonly text: string;
  readonly root: Node;
  /** Every name that the text uses, in order of appearance; names in braces without the braces. */
  readonly names: readonly string[];
}

/** What the formula language must know of a name. */
export type SymbolInfo =
  | { readonly type: 'number'; readonly tex: string; readonly dimension: Dimension }
  /** A list of like quantities; `tex` carries the running index, as in `\\ell_i`. With `rows` it has a value for each row of a table. */
  | {
      readonly type: 'list';
      readonly tex: string;
      readonly dimension: Dimension;
      readonly rows?: RowIndex;
    }
  | { readonly type: 'choice'; readonly tex: string; readonly options: readonly string[] }
  /** An option for each row of a table. */
  | {
      readonly type: 'choices';
      readonly tex: string;
      readonly options: readonly string[];
      readonly rows: RowIndex;
    };

/** A table whose rows are counted, and the letter of the running index over them. */
export interface RowIndex {
  readonly table: string;
  readonly index: string;
}

export type SymbolTable = ReadonlyMap<string, SymbolInfo>;

/** A value as formulas see it: an SI number or a choice, or one for each item; absent names are missing from the map. */
export type FormulaValue = number | readonly number[] | string | readonly string[];
export type FormulaValues = ReadonlyMap<string, FormulaValue>;

/** What an evaluation asks of them. */
export type ValueLookup = Pick<FormulaValues, 'get' | 'has'>;

/** The row of each table at which a formula is taken: table -> row, from zero. */
export type RowPoint = ReadonlyMap<string, number>;

/** What is printed for each name where numbers are put in; a list prints its items. */
export type ShownValues = ReadonlyMap<string, Displayed | readonly Displayed[] | string | readonly string[]>;
