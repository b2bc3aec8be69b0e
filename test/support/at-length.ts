/** Whether this is the long run, `npm run endurance`, or the suite. */
export const AT_LENGTH = process.env.SURGENOTE_AT_LENGTH !== undefined;

/** How many trials there are: some in the suite, and more of the same kind in the long run. */
export function trials(inSuite: number, atLength: number): number {
  return AT_LENGTH ? atLength : inSuite;
}

/** Of many like cases the suite works so many, spread evenly from the first to the last, and the long run all. */
export function spread<T>(cases: readonly T[], inSuite: number): readonly T[] {
  if (AT_LENGTH || cases.length <= inSuite) return cases;
  return Array.from(
    { length: inSuite },
    (_, i) => cases[Math.round((i * (cases.length - 1)) / Math.max(1, inSuite - 1))]!,
  );
}
