import type { EvaluatedGiven } from '../engine/definition/evaluated.ts';
import type { FactChange } from './comparison.ts';

type Givens = readonly EvaluatedGiven[];

/** A given that one entry of the register fills in both states: what changes of it is told of the register. */
export function isToldOfRegister(
  before: Givens | undefined,
  after: Givens | undefined,
  name: string,
): boolean {
  const [old, fresh] = [before, after].map((givens) => givens?.find((given) => given.name === name));
  return old?.item !== undefined && fresh?.item !== undefined && old.written === fresh.written;
}

/** The text of the reference or formula by which a given is written in both states; undefined where it is another, or a value. */
export function followedText(
  before: Givens | undefined,
  after: Givens | undefined,
  name: string,
): string | undefined {
  const [old, fresh] = [before, after].map((givens) => givens?.find((given) => given.name === name));
  if (!old || !fresh || old.origin !== fresh.origin || old.written !== fresh.written) return undefined;
  return fresh.origin === 'reference' || fresh.origin === 'formula' ? fresh.written : undefined;
}

/** Says of a change of a given from where its value comes, where nobody edited it here; a range beside it is always written here. */
export function markFollowing(
  change: FactChange,
  before: Givens | undefined,
  after: Givens | undefined,
): FactChange {
  const [name, part] = change.name.split('.');
  const follows = part === 'range' ? undefined : followedText(before, after, name!);
  return follows === undefined ? change : { ...change, follows };
}
