import { problem } from '../../../diagnostics/problem.ts';
import { findTexFault } from '../../../formula/find-tex-fault.ts';
import type { CompiledCalculation } from '../compiled.ts';
import type { DefinitionFault } from '../definition-fault.ts';

/** Symbols whose LaTeX is broken in its structure. */
export function checkSymbols({ definition }: CompiledCalculation): DefinitionFault[] {
  const ofGivens = Object.entries(definition.givens).flatMap(([name, given]): [string, string][] => {
    if (given.type !== 'rows') return [[`givens.${name}`, given.symbol]];
    return Object.entries(given.columns).flatMap(([column, inner]): [string, string][] =>
      inner.type === 'name' ? [] : [[`givens.${name}.columns.${column}`, inner.symbol]],
    );
  });
  const ofSteps = Object.entries(definition.steps).map(
    ([name, { symbol }]) => [`steps.${name}`, symbol] as const,
  );
  return [...ofGivens, ...ofSteps].flatMap(([where, symbol]) => {
    const because = findTexFault(symbol);
    return because === undefined
      ? []
      : [{ where: `${where}.symbol`, problem: problem('broken-tex', { symbol, because }) }];
  });
}
