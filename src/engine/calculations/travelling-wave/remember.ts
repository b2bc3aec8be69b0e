/** So many results are kept: the arrangements of a figure and the corners of a range share them. */
const KEPT = 8;

/**
 * A pure function that works each of its latest inputs out once. The key is the whole input, written out, so that equal
 * inputs give what a fresh evaluation would give and unequal ones never meet.
 */
export function remember<Input, Result>(work: (input: Input) => Result): (input: Input) => Result {
  const results = new Map<string, Result>();
  return (input) => {
    const key = JSON.stringify(input, writeNumber);
    const known = results.get(key);
    if (known !== undefined) return known;
    const result = work(input);
    results.set(key, result);
    if (results.size > KEPT) results.delete(results.keys().next().value!);
    return result;
  };
}

/** Written plainly, not-a-number and infinity would both be null, and so would one input be taken for another. */
function writeNumber(_: string, value: unknown): unknown {
  return typeof value === 'number' && !Number.isFinite(value) ? String(value) : value;
}
