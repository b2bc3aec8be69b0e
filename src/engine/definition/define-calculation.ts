import { wordMessage } from '../../diagnostics/messages.ts';
import { compileDefinition } from './compile-definition.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { CalculationDefinition } from './definition.ts';

/**
 * Compiles one calculation of the catalogue. Throws where the definition itself is wrong, with every part that is at fault
 * and the nearest name. That is a bug of the program, never of a note.
 */
export function defineCalculation(definition: CalculationDefinition): CompiledCalculation {
  const compilation = compileDefinition(definition);
  if (compilation.ok) return compilation.calculation;
  const faults = compilation.faults.map(({ where, problem }) => {
    const { message, hint } = wordMessage(problem.code, problem.data as never);
    return `  ${where}: ${message}${hint === undefined ? '' : ` (${hint})`}`;
  });
  throw new Error(`definition of ${definition.name}:\n${faults.join('\n')}`);
}
