import { wordMessage } from '../../diagnostics/messages.ts';
import { compileDefinition } from './compile-definition.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { CalculationDefinition } from './definition.ts';

/** A calculation of the catalogue: what it is called is known before it is compiled. */
export interface CatalogueCalculation extends CompiledCalculation {
  readonly name: string;
  readonly title: string;
}

/**
 * Defines one calculation of the catalogue. It is compiled when something of it is first used, for a note uses few of them; using
 * it throws where the definition itself is wrong, with every part that is at fault and the nearest name. That is a bug of the
 * program, never of a note.
 */
export function defineCalculation(definition: CalculationDefinition): CatalogueCalculation {
  let known: CompiledCalculation | undefined;
  const compiled = (): CompiledCalculation => {
    known ??= compile(definition);
    return known;
  };
  return {
    name: definition.name,
    title: definition.title,
    get definition() {
      return compiled().definition;
    },
    get symbols() {
      return compiled().symbols;
    },
    get givens() {
      return compiled().givens;
    },
    get alternatives() {
      return compiled().alternatives;
    },
    get steps() {
      return compiled().steps;
    },
    get checks() {
      return compiled().checks;
    },
    get roundings() {
      return compiled().roundings;
    },
    get validity() {
      return compiled().validity;
    },
    get cautions() {
      return compiled().cautions;
    },
    get limiting() {
      return compiled().limiting;
    },
    get required() {
      return compiled().required;
    },
  };
}

function compile(definition: CalculationDefinition): CompiledCalculation {
  const compilation = compileDefinition(definition);
  if (compilation.ok) return compilation.calculation;
  const faults = compilation.faults.map(({ where, problem }) => {
    const { message, hint } = wordMessage(problem.code, problem.data as never);
    return `  ${where}: ${message}${hint === undefined ? '' : ` (${hint})`}`;
  });
  throw new Error(`definition of ${definition.name}:\n${faults.join('\n')}`);
}
