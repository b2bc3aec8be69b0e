import { chooseCase, type EvaluationOptions } from './evaluate-formula.ts';
import type { Formula, FormulaValues, ShownValues, SymbolTable } from './formula.ts';
import type { MathPiece } from './math-piece.ts';
import { NumberStyle } from './number-style.ts';
import { symbolStyle } from './symbol-style.ts';
import { Typesetter } from './typesetter.ts';

/** The formula as it is set with the declared symbols; cases are printed all. */
export function typesetFormula(formula: Formula, symbols: SymbolTable): MathPiece {
  const known = SET.get(formula);
  if (known?.symbols === symbols) return known.piece;
  const piece = setSymbols(formula, symbols);
  SET.set(formula, { symbols, piece });
  return piece;
}

/** What was set before, as long as somebody holds the formula: blocks of one calculation show the same ones. */
const SET = new WeakMap<Formula, { readonly symbols: SymbolTable; readonly piece: MathPiece }>();

function setSymbols(formula: Formula, symbols: SymbolTable): MathPiece {
  return new Typesetter(symbolStyle(symbols)).piece(formula.root).math;
}

/**
 * The formula as it is set with numbers and units put in; a name without a shown value stays a symbol. With `values` only the
 * case that applies is printed; a formula of pure numbers needs its `numeric` units for that, as in evaluation. `rows`: the rows
 * of tables at which the formula is taken.
 */
export function typesetNumbers(
  formula: Formula,
  symbols: SymbolTable,
  shown: ShownValues,
  values?: FormulaValues,
  { numeric, rows }: EvaluationOptions = {},
): MathPiece {
  const style = new NumberStyle(
    symbols,
    shown,
    (node, at) => (values ? chooseCase(node, formula.text, values, { numeric, rows: at }) : undefined),
    rows,
  );
  return new Typesetter(style).piece(formula.root).math;
}
