import type { CompiledCalculation } from '../engine/definition/compiled.ts';
import type {
  EvaluatedCalculation,
  EvaluatedCaution,
  EvaluatedGiven,
} from '../engine/definition/evaluated.ts';
import { stepNeeds } from '../engine/definition/plan-step.ts';
import { say } from '../words/sentence.ts';

/** Whether the value of a reference, 'block.name', varies with a range in the block from which it comes. */
type Varies = (target: string) => boolean;

/**
 * A caution where a block that judges takes givens over from other blocks at one value, while over there they vary with a range:
 * its verdicts say nothing of the rest of that range. A given with a range of its own is none of them, nor is a limiting value,
 * which holds over the ranges.
 */
export function cautionRangesElsewhere(
  { givens, checks }: EvaluatedCalculation,
  varies: Varies,
): EvaluatedCaution[] {
  if (checks.length === 0) return [];
  const listed = givens.flatMap((given) => {
    if (given.range) return [];
    return targetsOf(given).some(varies) ? [given.meaning] : [];
  });
  if (listed.length === 0) return [];
  return [{ id: 'ranges-not-carried', text: say('caution.ranges-not-carried', { givens: listed }) }];
}

/** What a given refers to: 'block.name'. */
export function targetsOf({ origin, written = '' }: EvaluatedGiven): string[] {
  if (origin === 'reference') return [written];
  return origin === 'formula'
    ? [...written.matchAll(/\{([^{}]+)\}/g)].map(([, target]) => target!.trim())
    : [];
}

/** The givens and steps of a block whose values depend on a given that has a range, there or further back. */
export function listVarying(
  { givens }: EvaluatedCalculation,
  { steps }: CompiledCalculation,
  varies: Varies,
): ReadonlySet<string> {
  const entered = new Map(
    givens.map((given) => [given.name, given.range !== undefined || targetsOf(given).some(varies)]),
  );
  if (![...entered.values()].includes(true)) return new Set();
  const found = new Map<string, boolean>(entered);
  const variesHere = (name: string): boolean => {
    const known = found.get(name);
    if (known !== undefined) return known;
    found.set(name, false);
    const step = steps.find((one) => one.name === name);
    const result = step !== undefined && stepNeeds(step).some(variesHere);
    found.set(name, result);
    return result;
  };
  const names = [...entered.keys(), ...steps.map(({ name }) => name)];
  return new Set(names.filter(variesHere));
}
