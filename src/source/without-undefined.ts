type Optional<T> = { [K in keyof T]: undefined extends T[K] ? K : never }[keyof T];

/** The same record, with the keys left out that hold undefined. */
export type WithoutUndefined<T> = Omit<T, Optional<T>> & { [K in Optional<T>]?: Exclude<T[K], undefined> };

export function withoutUndefined<T extends object>(record: T): WithoutUndefined<T> {
  const left: Partial<T> = {};
  for (const key of Object.keys(record) as (keyof T)[]) {
    if (record[key] !== undefined) left[key] = record[key];
  }
  return left as WithoutUndefined<T>;
}
