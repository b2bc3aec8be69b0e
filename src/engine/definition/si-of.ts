import { toSi } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';

/** The SI value of a quantity text of the program's own; undefined where it is malformed. */
export function siOf(text: string): number | undefined {
  const reading = readQuantity(text);
  return reading.ok ? toSi(reading.value.value, reading.value.unit) : undefined;
}
