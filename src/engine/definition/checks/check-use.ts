import { problem } from '../../../diagnostics/problem.ts';
import type { Formula } from '../../../formula/formula.ts';
import type { CompiledCalculation } from '../compiled.ts';
import type { DefinitionFault } from '../definition-fault.ts';
import { stepNeeds } from '../plan-step.ts';

/**
 * Givens that no formula, condition, method, table or check looks at. A step needs no use: each is a result that the note
 * prints and that another block may refer to.
 */
export function checkUse(calculation: CompiledCalculation): DefinitionFault[] {
  const used = namesUsed(calculation);
  const isUsed = (name: string) => [...used].some((one) => one === name || one.startsWith(`${name}.`));
  return Object.entries(calculation.definition.givens).flatMap(([name, given]) => {
    const where = `givens.${name}`;
    if (!isUsed(name)) return [{ where, problem: problem('given-without-use', { name }) }];
    if (given.type !== 'rows' || used.has(name)) return [];
    // A name tells rows apart for those who read them.
    return Object.entries(given.columns)
      .filter(([column, { type }]) => type !== 'name' && !used.has(`${name}.${column}`))
      .map(([column]) => ({
        where: `${where}.columns.${column}`,
        problem: problem('given-without-use', { name: `${name}.${column}` }),
      }));
  });
}

function namesUsed({
  steps,
  checks,
  validity,
  cautions,
  limiting,
  alternatives,
}: CompiledCalculation): Set<string> {
  const conditions: (Formula | undefined)[] = [
    ...steps.flatMap(({ words }) => words.map(({ when }) => when)),
    ...checks.flatMap((check) =>
      [check, ...check.forces, ...check.remedies, ...check.candidates].map(({ when }) => when),
    ),
    ...validity.map(({ condition }) => condition),
    ...[...cautions, ...limiting, ...alternatives].map(({ when }) => when),
  ];
  return new Set([
    ...steps.flatMap((step) => [
      ...stepNeeds(step),
      ...(step.work.kind === 'solver' ? (step.work.step.mayUse ?? []) : []),
    ]),
    ...checks.flatMap(({ candidates, definition }) => [
      ...candidates.flatMap(({ value, limit }) => [...value.names, ...limit.names]),
      ...(definition.needs ?? []),
    ]),
    ...conditions.flatMap((condition) => condition?.names ?? []),
  ]);
}
