import { found, type Problem, type Reading } from '../diagnostics/problem.ts';
import { composeMath, type TypesetMath } from './typeset-math.ts';

const kept = new Map<string, TypesetMath>();
const MOST_KEPT = 5000;

/**
 * Sets LaTeX of the program's own, or of the author's where `checkPage` has passed it. A fault here is one of ours.
 * What was set once is kept: symbols come again on every page.
 */
export function setMath(tex: string): TypesetMath {
  const set = setOnce(tex);
  if (!set.ok) throw new Error(`a formula cannot be set: ${reasonOf(set.problem)}`);
  return set.value;
}

/** Sets LaTeX that was made out of other LaTeX; undefined where it cannot be set. */
export function trySetMath(tex: string): TypesetMath | undefined {
  const set = setOnce(tex);
  return set.ok ? set.value : undefined;
}

function setOnce(tex: string): Reading<TypesetMath> {
  const known = kept.get(tex);
  if (known) return found(known);
  const set = composeMath(tex);
  if (!set.ok) return set;
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(tex, set.value);
  return set;
}

export function mathHtml(tex: string): string {
  return tex === '' ? '' : setMath(tex).html;
}

function reasonOf(problem: Problem): string {
  return problem.code === 'math-error' ? `${problem.data.tex} (${problem.data.reason})` : problem.code;
}
