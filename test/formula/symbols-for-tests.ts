import type { FormulaValues, SymbolInfo, SymbolTable } from '../../src/formula/formula.ts';
import { unit } from '../../src/quantity/unit.ts';

function number(tex: string, unitText: string): SymbolInfo {
  return { type: 'number', tex, dimension: unit(unitText).dimension };
}

function list(tex: string, unitText: string): SymbolInfo {
  return { type: 'list', tex, dimension: unit(unitText).dimension };
}

/** Names as calculations declare them, of every type. */
export const SYMBOLS: SymbolTable = new Map<string, SymbolInfo>([
  ['line_lead', number('\\ell_{1}', 'm')],
  ['earth_lead', number('\\ell_{2}', 'm')],
  ['inductance', number("L'", 'uH/m')],
  ['steepness', number('S', 'kA/us')],
  ['residual_voltage', number('U_\\mathrm{res}', 'kV')],
  ['current', number('I', 'kA')],
  ['resistivity', number('\\rho', 'ohm m')],
  ['time', number('t', 'us')],
  ['tail', number('\\tau', 'us')],
  ['x', number('x', '1')],
  ['y', number("y'", '1')],
  ['z', number('z^{*}', '1')],
  ['sections.length', list('\\ell_{i}', 'm')],
  ['sections.inductance', list("L'_{i}", 'uH/m')],
  ['numbers', list('n_{i}', '1')],
  ['tx1-as-found.line_lead', number('\\ell_{1}', 'm')],
  ['arrangement', { type: 'choice', tex: 'a', options: ['common-earth', 'separate-earths', '3-wire'] }],
]);

/** Values in SI units for the names above; `tail` is absent. */
export const VALUES: FormulaValues = new Map<string, number | readonly number[] | string>([
  ['line_lead', 1.8],
  ['earth_lead', 7.5],
  ['inductance', 1e-6],
  ['steepness', 1e10],
  ['residual_voltage', 33e3],
  ['current', 3000],
  ['resistivity', 100],
  ['time', 1e-6],
  ['x', 0],
  ['y', 2],
  ['z', -3],
  ['sections.length', [1, 2, 3]],
  ['sections.inductance', [1e-6, 2e-6, 3e-6]],
  ['numbers', [4, 1, 7, 2]],
  ['tx1-as-found.line_lead', 4],
  ['arrangement', 'common-earth'],
]);
