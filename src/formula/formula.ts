import type { Span } from '../diagnostics/place.ts';
import type { Dimension } from '../quantity/dimension.ts';
import type { Displayed } from '../quantity/display.ts';
import type { Unit } from '../quantity/unit.ts';

/** Functions of the language that take expressions. `sum`, `min` and `max` also take one list expression. */
export type FunctionName =
  | 'sqrt'
  | 'exp'
  | 'ln'
  | 'log10'
  | 'abs'
  | 'min'
  | 'max'
  | 'sum'
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

/** A node of a parsed formula; every node knows its stretch of the text. */
export type Node =
  | { readonly type: 'number'; readonly text: string; readonly value: number; readonly span: Span }
  | {
      readonly type: 'quantity';
      readonly text: string;
      readonly value: number;
      readonly unit: Unit;
      readonly span: Span;
    }
  | { readonly type: 'name'; readonly name: string; readonly span: Span }
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
  | { readonly type: 'choice'; readonly name: string; readonly option: string; readonly span: Span }
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
  /** A list of like quantities; `tex` carries the running index i, as in `\\ell_i`. */
  | { readonly type: 'list'; readonly tex: string; readonly dimension: Dimension }
  | { readonly type: 'choice'; readonly tex: string; readonly options: readonly string[] };

export type SymbolTable = ReadonlyMap<string, SymbolInfo>;

/** A value as formulas see it: SI number, list of SI numbers, a choice; absent names are missing from the map. */
export type FormulaValue = number | readonly number[] | string;
export type FormulaValues = ReadonlyMap<string, FormulaValue>;

/** What is printed for each name where numbers are put in; a list prints its items. */
export type ShownValues = ReadonlyMap<string, Displayed | readonly Displayed[] | string>;
