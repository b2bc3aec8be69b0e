import { once } from './once.ts';

/** Where an object keeps what makes its later fields: seen by nobody who goes through its fields or copies them. */
const MAKE = Symbol('make');

interface WithLater<Later> {
  readonly [MAKE]: () => Later;
}

/**
 * Gives plain objects fields that are made, all of them, when one is first asked for. To whoever reads, copies or compares such an object they are fields
 * like any other; `make` must be pure.
 *
 * All objects share the getters. Of getters that stand in an object literal each object has functions of its own, and V8 then keeps every object as a hash
 * table: four times the memory, and slow to read.
 */
export function laterFields<Later extends object>(
  ...names: readonly (keyof Later & string)[]
): <Own extends object>(own: Own, make: () => Later) => Own & Later {
  const getters = names.map((name) => {
    function get(this: WithLater<Later>): Later[typeof name] {
      return this[MAKE]()[name];
    }
    return [name, { get, enumerable: true }] as const;
  });
  return (own, make) => {
    Object.defineProperty(own, MAKE, { value: once(make) });
    for (const [name, getter] of getters) Object.defineProperty(own, name, getter);
    return own as typeof own & Later;
  };
}
