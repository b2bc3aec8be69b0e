import type { Code, DataOf } from './messages.ts';
import type { Span } from './place.ts';

/**
 * A fault found by code that does not know where its text stands in the project: a code of the message
 * table, the data of that message, and the part of the text that is at fault.
 */
export type Problem = {
  [C in Code]: { readonly code: C; readonly data: DataOf<C>; readonly span?: Span };
}[Code];

/** Builds a problem; the data must fit the code. */
export function problem<C extends Code>(code: C, data: DataOf<C>, span?: Span): Problem {
  return (span ? { code, data, span } : { code, data }) as Problem;
}

/** The outcome of reading something: a value, or what is wrong with it. */
export type Reading<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: Problem };

export function found<T>(value: T): Reading<T> {
  return { ok: true, value };
}

export function refused<C extends Code>(code: C, data: DataOf<C>, span?: Span): Reading<never> {
  return { ok: false, problem: problem(code, data, span) };
}
