/** The sign-offs of a note, in the order in which they are given. */
export const ROLES = ['prepared', 'checked', 'approved'] as const;
export type Role = (typeof ROLES)[number];

/** How the checker has checked. */
export const METHODS = ['line-by-line', 'alternative-calculation', 'comparison'] as const;
export type Method = (typeof METHODS)[number];

export const METHOD_WORDS: Readonly<Record<Method, string>> = {
  'line-by-line': 'line by line',
  'alternative-calculation': 'alternative calculation',
  comparison: 'comparison with an earlier calculation',
};
