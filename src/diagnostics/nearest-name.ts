import { distance } from 'fastest-levenshtein';

/** The known name that a misspelt one probably meant, or undefined where none is near. */
export function nearestName(name: string, known: Iterable<string>): string | undefined {
  const folded = fold(name);
  let best: string | undefined;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const other = fold(candidate);
    const d = areSwapped(folded, other) ? 1 : distance(folded, other);
    if (d < bestDistance) {
      best = candidate;
      bestDistance = d;
    }
  }
  // A name of which no letter is kept is a different name: 'L' does not mean 'h'.
  const limit = Math.min(Math.max(1, Math.floor(name.length / 3)), name.length - 1);
  return bestDistance <= limit ? best : undefined;
}

/** Whether two neighbouring letters have changed places, the commonest slip of all. */
function areSwapped(a: string, b: string): boolean {
  const i = [...a].findIndex((letter, at) => letter !== b[at]);
  return i >= 0 && a !== b && a.slice(0, i) + a.charAt(i + 1) + a.charAt(i) + a.slice(i + 2) === b;
}

function fold(name: string): string {
  return name.toLowerCase().replaceAll('-', '_');
}
