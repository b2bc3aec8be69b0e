/** Values within this relative distance count as equal: 0.17 + 0.28 + 0.05 m meets 0.5 m. */
export const EQUAL_WITHIN = 1e-9;

export function equal(a: number, b: number): boolean {
  return a === b || Math.abs(a - b) <= EQUAL_WITHIN * Math.max(Math.abs(a), Math.abs(b));
}

export function less(a: number, b: number): boolean {
  return a < b && !equal(a, b);
}

export function greater(a: number, b: number): boolean {
  return a > b && !equal(a, b);
}

export type Relation = '<=' | '>=' | '<' | '>';

/** Whether `a relation b` holds; for the strict relations equality fails. */
export function holds(a: number, relation: Relation, b: number): boolean {
  switch (relation) {
    case '<=':
      return !greater(a, b);
    case '>=':
      return !less(a, b);
    case '<':
      return less(a, b);
    case '>':
      return greater(a, b);
  }
}
