/**
 * Radius of the corona about a conductor at the given height (m) and voltage (V): where the field of a charged cylinder over
 * ground falls to the given strength (V/m). R ln(2 h/R) = V/E has two roots; this is the smaller, below 2 h/e, beyond which
 * there is none. Undefined where the voltage is too high for that.
 */
export function coronaRadius(voltage: number, height: number, strength: number): number | undefined {
  const target = voltage / strength;
  const highest = (2 * height) / Math.E;
  if (target > highest) return undefined;
  let [low, high] = [0, highest];
  for (let turn = 0; turn < 200; turn++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (middle * Math.log((2 * height) / middle) < target) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
