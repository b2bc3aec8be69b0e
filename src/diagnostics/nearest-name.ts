import { distance } from 'fastest-levenshtein';

/** Among more names than these only those are compared that begin with the same letter: a long list of faults stays quick. */
const MANY = 500;

/** The known name that a misspelt one probably meant, or undefined where none is near. */
export function nearestName(name: string, known: Iterable<string>): string | undefined {
  const folded = fold(name);
  // A name of which no letter is kept is a different name: 'L' does not mean 'h'.
  const limit = Math.min(Math.max(1, Math.floor(name.length / 3)), name.length - 1);
  const [letter, capital] = [folded[0], folded[0]?.toUpperCase()];
  let best: string | undefined;
  let bestDistance = limit + 1;
  let compared = 0;
  for (const candidate of known) {
    if (Math.abs(candidate.length - name.length) >= bestDistance) continue;
    compared += 1;
    if (compared > MANY && candidate[0] !== letter && candidate[0] !== capital) continue;
    const other = fold(candidate);
    const d = areSwapped(folded, other) ? 1 : distance(folded, other);
    if (d < bestDistance) {
      best = candidate;
      bestDistance = d;
      if (d === 0) break;
    }
  }
  return best;
}

/** Whether two neighbouring letters have changed places, the commonest slip of all. */
function areSwapped(a: string, b: string): boolean {
  if (a.length !== b.length) return false;
  let i = 0;
  while (i < a.length && a[i] === b[i]) i += 1;
  return i < a.length && a.slice(0, i) + a.charAt(i + 1) + a.charAt(i) + a.slice(i + 2) === b;
}

function fold(name: string): string {
  return name.toLowerCase().replaceAll('-', '_');
}
