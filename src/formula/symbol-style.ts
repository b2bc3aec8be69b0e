import type { FunctionName, SymbolTable } from './formula.ts';
import { atom, behindOperator, type Joinable, LEVEL, prefix } from './joinable.ts';
import type { MathPiece } from './math-piece.ts';
import { beginsWithDigit } from './math-shape.ts';
import { traitsOf } from './symbol-traits.ts';
import type { Style } from './typesetter.ts';

/** The running index of lists that belong to no table. */
const USUAL_INDEX = 'i';

/** The declared symbol of a name; a name that declares none is printed upright as it is written. */
export function symbolOfName(name: string, symbols: SymbolTable): MathPiece {
  const tex = symbols.get(name)?.tex;
  return tex === undefined ? { type: 'words', words: name } : { type: 'symbol', tex };
}

/** Formulas with their symbols. */
export function symbolStyle(symbols: SymbolTable): Style {
  const symbol = (name: string) => symbolOfName(name, symbols);
  return {
    name: ({ name }) => joinableSymbol(symbol(name)),
    symbol,
    run: (node, typesetter) => {
      const body = behindOperator(typesetter.piece(node.arguments[0]!));
      const sign = runSign(node.function, node.index ?? USUAL_INDEX);
      return { math: prefix(sign, body), level: LEVEL.open };
    },
    count: (name) => ({
      math: { type: 'call', function: 'count', arguments: [symbol(name)], grows: 'as needed' },
      level: LEVEL.call,
    }),
    choose: () => undefined,
    between: (left, right) => (left.endsWithUnit || beginsWithDigit(right.math) ? 'dot' : 'beside'),
  };
}

function runSign(name: FunctionName, index: string): MathPiece {
  return { type: 'run', function: name, index };
}

/** A symbol that is a quotient by itself, such as di/dt, needs parentheses under a power; a sum needs them beside more. */
function joinableSymbol(math: MathPiece): Joinable {
  if (math.type !== 'symbol') return atom(math);
  const { isSum, isQuotient } = traitsOf(math.tex);
  return { math, level: isSum ? LEVEL.sum : isQuotient ? LEVEL.call : LEVEL.atom };
}
