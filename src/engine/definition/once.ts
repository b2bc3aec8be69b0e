/**
 * What `work` gives, made when it is first asked for, and that same thing whenever it is asked for again; what it was made of is let go then.
 * `work` must be pure.
 */
export function once<T>(work: () => T): () => T {
  let pending: (() => T) | undefined = work;
  let made: T;
  return () => {
    if (pending) {
      made = pending();
      pending = undefined;
    }
    return made;
  };
}
