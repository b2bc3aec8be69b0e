import { found, type Problem, type Reading } from '../../diagnostics/problem.ts';
import type { MathPiece } from '../../formula/math-piece.ts';
import { composeMath, composePiece, type TypesetMath } from './typeset-math.ts';
import { writeTex } from './write-tex.ts';

const kept = new Map<string, TypesetMath>();
const MOST_KEPT = 5000;

/** LaTeX of a symbol or of the author's prose that `checkPage` has passed: a fault here is one of ours. */
export function setTex(tex: string): TypesetMath {
  return must(keep(`tex ${tex}`, () => composeMath(tex)));
}

/** A formula of pieces, as it stands within a line of text. */
export function setMath(piece: MathPiece): TypesetMath {
  return must(keep(`piece ${writeTex(piece)}`, () => composePiece(piece, false)));
}

/** A formula of pieces as it is set on a line of its own. */
export function setDisplay(piece: MathPiece): TypesetMath {
  return must(keep(`display ${writeTex(piece)}`, () => composePiece(piece, true)));
}

/** The same where it may be that it cannot be set, because an author's symbols stand in it; then undefined. */
export function trySetDisplay(piece: MathPiece): TypesetMath | undefined {
  const set = keep(`display ${writeTex(piece)}`, () => composePiece(piece, true));
  return set.ok ? set.value : undefined;
}

/** LaTeX that was made out of other LaTeX; undefined where it cannot be set. */
export function trySetTex(tex: string): TypesetMath | undefined {
  const set = keep(`tex ${tex}`, () => composeMath(tex));
  return set.ok ? set.value : undefined;
}

/** What was set once is kept: symbols come again on every page. */
function keep(key: string, compose: () => Reading<TypesetMath>): Reading<TypesetMath> {
  const known = kept.get(key);
  if (known) return found(known);
  const set = compose();
  if (!set.ok) return set;
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(key, set.value);
  return set;
}

function must(set: Reading<TypesetMath>): TypesetMath {
  if (!set.ok) throw new Error(`a formula cannot be set: ${reasonOf(set.problem)}`);
  return set.value;
}

/** The HTML of a symbol; nothing where there is none. */
export function texHtml(tex: string): string {
  return tex === '' ? '' : setTex(tex).html;
}

export function mathHtml(piece: MathPiece): string {
  return setMath(piece).html;
}

function reasonOf(problem: Problem): string {
  return problem.code === 'math-error' ? `${problem.data.tex} (${problem.data.reason})` : problem.code;
}
