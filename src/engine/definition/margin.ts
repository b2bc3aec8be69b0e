import type { CheckDefinition } from './definition.ts';

/** How far a value lies from its limit: positive on the good side, negative beyond the limit. */
export interface Margin {
  readonly value: number;
  /** As a part of the limit; or, where the limit is nought, as such in SI. */
  readonly of: 'limit' | 'unit';
}

/** The margin of a value against its limit, both in SI. */
export function marginOf(value: number, relation: CheckDefinition['relation'], limit: number): Margin {
  const good = relation === '<=' || relation === '<' ? limit - value : value - limit;
  return {
    value: good / (limit === 0 ? 1 : Math.abs(limit)),
    of: limit === 0 ? 'unit' : 'limit',
  };
}
