import { readQuantity } from '../../quantity/read-quantity.ts';
import { wordBasis } from './basis.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { GivenInput, Inputs } from './inputs.ts';

/** The default of a given, where it has one. */
export function defaultOf(calculation: CompiledCalculation, name: string) {
  const given = calculation.givens.get(name)?.definition;
  return given && 'default' in given ? given.default : undefined;
}

/** The givens as written, and defaults for the rest; none for a given whose alternative is written. */
export function withDefaults(calculation: CompiledCalculation, written: Inputs): Inputs {
  const displaced = new Set(
    calculation.alternatives.flatMap(({ oneOf }) => (oneOf.some((name) => written.has(name)) ? oneOf : [])),
  );
  const inputs = new Map<string, GivenInput>();
  for (const [name, given] of calculation.givens) {
    const input = written.get(name);
    if (input) inputs.set(name, input);
    else if (!displaced.has(name)) {
      const fallback = defaultOf(calculation, name);
      if (fallback)
        inputs.set(name, defaultInput(given.definition.type, fallback.value, wordBasis(fallback.basis)));
    }
  }
  return inputs;
}

function defaultInput(type: string, text: string, source: string): GivenInput {
  if (type === 'choice') return { value: { type: 'choice', choice: text }, source, origin: 'default' };
  const reading = readQuantity(text);
  if (!reading.ok) throw new Error(`default '${text}' is not a quantity`);
  return { value: { type: 'quantity', quantity: reading.value }, source, origin: 'default' };
}
