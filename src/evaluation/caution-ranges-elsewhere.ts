import { stepNeeds } from '../engine/definition/compute.ts';
import type {
  EvaluatedCalculation,
  EvaluatedCaution,
  EvaluatedGiven,
} from '../engine/definition/evaluated.ts';
import type { DoneBlock } from './resolve-target.ts';

type Blocks = ReadonlyMap<string, DoneBlock>;

/**
 * A caution where a block that judges takes givens over from other blocks at one value, while over there they vary with a range:
 * its verdicts say nothing of the rest of that range. A given with a range of its own is none of them, nor is a limiting value,
 * which holds over the ranges.
 *
 * @param done the blocks of the note that were evaluated before
 */
export function cautionRangesElsewhere(
  { givens, checks }: EvaluatedCalculation,
  done: Blocks,
): EvaluatedCaution[] {
  if (checks.length === 0) return [];
  const listed = givens.flatMap((given) => {
    if (given.range) return [];
    const from = targetsOf(given).filter((target) => varies(target, done));
    return from.length === 0 ? [] : [`${given.meaning} (${from.join(', ')})`];
  });
  if (listed.length === 0) return [];
  const text =
    `Taken over at one value, while it varies with a range in the calculation from which it comes: ${listed.join('; ')}. ` +
    'The verdicts are those at that value; where a range is written here too, they are judged over it.';
  return [{ id: 'ranges-not-carried', text }];
}

/** What a given refers to: 'block.name'. */
function targetsOf({ origin, written = '' }: EvaluatedGiven): string[] {
  if (origin === 'reference') return [written];
  return origin === 'formula'
    ? [...written.matchAll(/\{([^{}]+)\}/g)].map(([, target]) => target!.trim())
    : [];
}

function varies(target: string, done: Blocks): boolean {
  const dot = target.indexOf('.');
  const block = done.get(target.slice(0, dot));
  return block !== undefined && variesWithin(block, target.slice(dot + 1), done, new Set());
}

/** Whether a value of a block depends on a given that has a range, there or further back. */
function variesWithin(block: DoneBlock, name: string, done: Blocks, seen: Set<string>): boolean {
  if (seen.has(name)) return false;
  seen.add(name);
  const given = block.evaluated.givens.find((one) => one.name === name);
  if (given) return given.range !== undefined || targetsOf(given).some((target) => varies(target, done));
  const step = block.calculation.steps.find((one) => one.name === name);
  return step !== undefined && stepNeeds(step).some((used) => variesWithin(block, used, done, seen));
}
