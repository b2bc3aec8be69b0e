import { problem } from '../../../diagnostics/problem.ts';
import type { CompiledCalculation, CompiledCheck } from '../compiled.ts';
import type { DefinitionFault } from '../definition-fault.ts';
import { wordsOfNames } from './possible-words.ts';
import { findUnknown } from './unknown-part.ts';

/** Names that stand for no part of the definition, outside formulas and conditions, which are checked as they are parsed. */
export function checkNames(calculation: CompiledCalculation): DefinitionFault[] {
  return [
    ...checkAlternatives(calculation),
    ...calculation.checks.flatMap((check) => checkCheck(calculation, check)),
    ...checkLimiting(calculation),
    ...checkSketch(calculation),
  ];
}

function checkSketch({ definition: { sketch, givens } }: CompiledCalculation): DefinitionFault[] {
  return findUnknown('sketch.measures', Object.keys(sketch?.measures ?? {}), 'a given', Object.keys(givens));
}

function checkAlternatives({ definition }: CompiledCalculation): DefinitionFault[] {
  const givens = Object.keys(definition.givens);
  return (definition.alternatives ?? []).flatMap(({ oneOf }, i) => {
    const where = `alternatives.${i}`;
    const few = new Set(oneOf).size < Math.max(2, oneOf.length);
    return [
      ...findUnknown(where, oneOf, 'a given', givens),
      ...(few ? [{ where, problem: problem('one-alternative', { names: [...new Set(oneOf)] }) }] : []),
    ];
  });
}

function checkCheck(
  calculation: CompiledCalculation,
  { name, definition, candidates }: CompiledCheck,
): DefinitionFault[] {
  const values = [...Object.keys(calculation.definition.givens), ...calculation.symbols.keys()];
  const names = candidates.flatMap(({ value, limit }) => [...value.names, ...limit.names]);
  const where = `checks.${name}`;
  return [
    ...findUnknown(`${where}.needs`, definition.needs ?? [], 'a given or a step', [...new Set(values)]),
    ...findUnknown(
      `${where}.verdictOfWords`,
      Object.keys(definition.verdictOfWords ?? {}),
      'what a step of this check can say in place of a number',
      [...wordsOfNames(calculation, names)],
    ),
  ];
}

function checkLimiting({ definition }: CompiledCalculation): DefinitionFault[] {
  const quantities = Object.entries(definition.givens).flatMap(([name, { type }]) =>
    type === 'quantity' ? [name] : [],
  );
  const seen = new Set<string>();
  return (definition.limiting ?? []).flatMap(({ given, seek, checks }, i) => {
    const key = JSON.stringify([given, seek, checks && [...checks].sort()]);
    const again = seen.has(key);
    seen.add(key);
    return [
      ...findUnknown(`limiting.${i}.given`, [given], 'a given that is a quantity', quantities),
      ...findUnknown(`limiting.${i}.checks`, checks ?? [], 'a check', Object.keys(definition.checks ?? {})),
      ...(again ? [{ where: `limiting.${i}`, problem: problem('same-limiting', { given, seek }) }] : []),
    ];
  });
}
