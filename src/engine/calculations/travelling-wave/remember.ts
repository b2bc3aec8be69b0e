/** So many results are kept: the arrangements of a figure and the corners of a range share them. */
const KEPT = 8;

/**
 * A pure function that works each of its latest inputs out once; what else it is given may help, but change no result.
 * The key is the whole input, written out, so that equal inputs give what a fresh evaluation would give and unequal
 * ones never meet.
 */
export function remember<Input, Result, Help extends unknown[]>(
  work: (input: Input, ...help: Help) => Result,
): (input: Input, ...help: Help) => Result {
  const results = new Map<string, Result>();
  return (input, ...help) => {
    const key = JSON.stringify(input, writeNumber);
    const known = results.get(key);
    if (known !== undefined) return known;
    const result = work(input, ...help);
    results.set(key, result);
    if (results.size > KEPT) results.delete(results.keys().next().value!);
    return result;
  };
}

/** Written plainly, not-a-number and infinity would both be null, and so would one input be taken for another. */
function writeNumber(_: string, value: unknown): unknown {
  return typeof value === 'number' && !Number.isFinite(value) ? String(value) : value;
}
