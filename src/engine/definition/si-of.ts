import { toSi } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';

/** The SI value of a quantity text of the program's own; undefined where it is malformed. */
export function siOf(text: string): number | undefined {
  if (KNOWN.has(text)) return KNOWN.get(text);
  const reading = readQuantity(text);
  const si = reading.ok ? toSi(reading.value.value, reading.value.unit) : undefined;
  if (KNOWN.size >= MOST_KNOWN) KNOWN.clear();
  KNOWN.set(text, si);
  return si;
}

/** What was read before: the ends of ranges are asked for again for every value that is judged. */
const KNOWN = new Map<string, number | undefined>();
const MOST_KNOWN = 5000;
