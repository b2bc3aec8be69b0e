import type { SymbolTable } from './formula.ts';
import { atom, behindOperator, delimit, LEVEL, type Piece, texWords } from './tex-piece.ts';
import type { Style } from './typesetter.ts';

/** The running index of lists that belong to no table. */
export const USUAL_INDEX = 'i';

/** The declared LaTeX of a name; a name that declares none is printed upright as it is written. */
export function texOfName(name: string, symbols: SymbolTable): string {
  return symbols.get(name)?.tex ?? texWords(name);
}

/** Formulas with their symbols. */
export function symbolStyle(symbols: SymbolTable): Style {
  const symbol = (name: string) => texOfName(name, symbols);
  return {
    name: ({ name }) => symbolPiece(symbol(name)),
    symbol,
    run: (node, typesetter) => {
      const body = behindOperator(typesetter.piece(node.arguments[0]!));
      const sign = { sum: '\\sum', product: '\\prod' }[String(node.function)] ?? `\\${node.function}`;
      return { tex: `${sign}_{${node.index ?? USUAL_INDEX}} ${body.tex}`, level: LEVEL.open };
    },
    count: (name) => ({ tex: `\\operatorname{count}${delimit(symbol(name))}`, level: LEVEL.call }),
    choose: () => undefined,
    between: (left, right) => (left.endsWithUnit || /^\{?[\d.]/.test(right.tex) ? ' \\cdot ' : '\\,'),
  };
}

/** A symbol that is a quotient by itself, such as di/dt, needs parentheses under a power; a sum needs them beside more. */
function symbolPiece(tex: string): Piece {
  if (/[+\-=<>]/.test(tex.replaceAll(/\{(?:[^{}]|\{[^{}]*\})*\}/g, ''))) return { tex, level: LEVEL.sum };
  return /\\[dt]?frac|\//.test(tex) ? { tex, level: LEVEL.call } : atom(tex);
}
