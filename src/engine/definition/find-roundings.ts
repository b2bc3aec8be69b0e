import type { Direction } from '../../quantity/decimal-digits.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { CheckDefinition } from './definition.ts';

export type SafeSide = Exclude<Direction, 'nearest'>;

/** The side to which a limit is rounded, so that whoever keeps to the printed one keeps to the true one. */
export function safeSideOf(relation: CheckDefinition['relation']): SafeSide {
  return relation === '<=' || relation === '<' ? 'down' : 'up';
}

/**
 * The side to which each value is rounded wherever it is printed, by name: as the step declares, else the safe one of the checks whose limit
 * the value is. What is a limit both upwards and downwards has none.
 */
export function findRoundings({
  checks,
  steps,
}: Pick<CompiledCalculation, 'checks' | 'steps'>): ReadonlyMap<string, SafeSide> {
  const asked = new Map<string, Set<SafeSide>>();
  const ask = (name: string, sides: Iterable<SafeSide>) =>
    asked.set(name, new Set([...(asked.get(name) ?? []), ...sides]));
  for (const { candidates, definition } of checks) {
    for (const { limit } of candidates) {
      if (limit.root.type === 'name') ask(limit.root.name, [safeSideOf(definition.relation)]);
    }
  }
  for (const { name, definition } of steps) {
    if (definition.rounded) asked.set(name, new Set([definition.rounded]));
  }
  // What is handed on unchanged is the same number: from the last step to the first, since each uses only earlier ones.
  for (const { name, work } of [...steps].reverse()) {
    for (const { formula } of work.kind === 'formula' ? work.variants : []) {
      const { root } = formula;
      const isDeclared = steps.some(
        (step) => root.type === 'name' && step.name === root.name && step.definition.rounded,
      );
      if (root.type === 'name' && !isDeclared) ask(root.name, asked.get(name) ?? []);
    }
  }
  return new Map(
    [...asked].flatMap(([name, [side, ...others]]) => (side && others.length === 0 ? [[name, side]] : [])),
  );
}
