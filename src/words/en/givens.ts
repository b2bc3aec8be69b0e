/** Givens as they are printed. */
export const GIVEN_WORDS = {
  'given.no-rows': 'none',
};
