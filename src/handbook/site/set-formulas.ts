import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import type { Typesetting } from '../../engine/handbook/describe-calculation.ts';
import { rowOf, sign } from '../../formula/math-piece.ts';
import { symbolOfName } from '../../formula/symbol-style.ts';
import { typesetFormula } from '../../formula/typeset-formula.ts';
import { fitMath, NARROW_EM } from '../../page/math/fit-math.ts';
import { texHtml } from '../../page/math/set-math.ts';

/** Formulas and symbols of a calculation as HTML, and the marks that stand for them in its markdown. */
export interface SetFormulas extends Typesetting {
  readonly formulas: ReadonlyMap<string, string>;
}

/** Sets the formulas of a calculation from the very trees that are evaluated. */
export function setFormulas(calculation: CompiledCalculation): SetFormulas {
  const formulas = new Map<string, string>();
  const keep = (html: string): string => {
    const mark = `set-${formulas.size}`;
    formulas.set(mark, html);
    return `$${mark}$`;
  };
  const { steps, symbols } = calculation;
  return {
    formulas,
    symbol: (tex) => (tex === '' ? '' : ` ${keep(texHtml(tex))}`),
    formula: (name, text) => {
      const step = steps.find((one) => one.name === name);
      const variants = step?.work.kind === 'formula' ? step.work.variants : [];
      const formula = variants.find((one) => one.formula.text === text)?.formula;
      if (!formula) return '';
      const right = typesetFormula(formula, symbols);
      const { html } = fitMath(
        rowOf([symbolOfName(name, symbols), sign('leading equals'), right]),
        NARROW_EM,
      );
      return `${keep(`<span class="formula">${html}</span>`)} `;
    },
  };
}
