import type { FunctionName } from '../../formula/formula.ts';
import type { Enclosed, MathPiece, Sign } from '../../formula/math-piece.ts';
import { isRaised, isTall } from '../../formula/math-shape.ts';
import type { PrintedNumber } from '../../quantity/display.ts';
import type { Unit } from '../../quantity/unit.ts';

/** Signs as LaTeX, with the blanks that keep a command from what follows. */
const SIGNS: Readonly<Record<Sign, string>> = {
  '<': ' < ',
  '<=': ' \\le ',
  '>': ' > ',
  '>=': ' \\ge ',
  '=': ' = ',
  '!=': ' \\ne ',
  negative: '-',
  '+': ' + ',
  '-': ' - ',
  dot: ' \\cdot ',
  beside: '\\,',
  stroke: '/',
  over: '\\,/\\,',
  comma: ',\\, ',
  semicolon: ';\\allowbreak\\; ',
  dots: '\\dots',
  blank: '\\ ',
  wide: '\\;',
  break: '\\allowbreak ',
  raised: '\\mathbin{\\text{\\textasciicircum}}',
  // A relation, behind which a minus belongs to its number and is not set as a difference; no line ends between them.
  'leading equals': ' =\\nobreak ',
};

const FUNCTIONS: Partial<Record<FunctionName, string>> = {
  log10: '\\log_{10}',
  asin: '\\arcsin',
  acos: '\\arccos',
  atan: '\\arctan',
  asinh: '\\operatorname{arsinh}',
  acosh: '\\operatorname{arcosh}',
  count: '\\operatorname{count}',
  product: '\\prod',
};

/** A formula as LaTeX. */
export function writeTex(piece: MathPiece): string {
  switch (piece.type) {
    case 'number':
      return numberTex(piece.number);
    case 'quantity':
      return quantityTex(piece.number, piece.unit);
    case 'symbol':
      return piece.tex;
    case 'words':
      return wordsTex(piece.words);
    case 'sign':
      return SIGNS[piece.sign];
    case 'row':
      return piece.parts.map(writeTex).join('');
    case 'fraction':
      return `\\frac{${writeTex(piece.above)}}{${writeTex(piece.below)}}`;
    case 'root':
      return `\\sqrt{${writeTex(piece.radicand)}}`;
    case 'power':
      return `${baseTex(piece.base)}^{${writeTex(piece.exponent)}}`;
    case 'enclosed':
      return delimit(piece, writeTex(piece.inner));
    case 'call':
      return functionTex(piece.function) + argumentsTex(piece);
    case 'run':
      return `${functionTex(piece.function)}_{${piece.index}} `;
    case 'cases':
      return casesTex(piece);
  }
}

/** A number and its power of ten stand on one line: 1.4 × 10⁻⁵ is not broken behind the sign. */
function numberTex({ mantissa, exponent }: PrintedNumber): string {
  if (exponent === undefined) return mantissa;
  const power = `10^{${exponent}}`;
  return mantissa === '' ? power : `${mantissa} \\times\\nobreak ${power}`;
}

/** A degree would be a second superscript on a power of ten: it gets an empty base of its own. */
function quantityTex(number: PrintedNumber, unit: Unit): string {
  const behind = unitTex(unit);
  const apart = number.exponent !== undefined && behind.startsWith('^') ? '{}' : '';
  return numberTex(number) + apart + behind;
}

/** The unit with what stands between it and its number: the degree sign alone stands close. */
export function unitTex({ tex }: Unit): string {
  return tex === '^\\circ' ? tex : `\\,${tex}`;
}

export function signTex(sign: Sign): string {
  return SIGNS[sign];
}

export function functionTex(name: FunctionName): string {
  return FUNCTIONS[name] ?? `\\${name}`;
}

/** A second superscript on one sign is an error in LaTeX: braces make the base a sign of its own. */
function baseTex(base: MathPiece): string {
  return isRaised(base) ? `{${writeTex(base)}}` : writeTex(base);
}

function argumentsTex({ arguments: values, grows }: Extract<MathPiece, { type: 'call' }>): string {
  const inner = values.map(writeTex).join(grows === 'never' ? ',\\allowbreak\\, ' : SIGNS.comma);
  const isHigh = values.some(isTall);
  return delimit(
    { opening: '(', closing: ')', grows: isHigh && grows !== 'never' ? 'always' : 'never' },
    inner,
  );
}

/** LaTeX between delimiters that grow where they must. */
function delimit(
  { opening, closing, grows, inner }: Omit<Enclosed, 'type' | 'inner'> & { readonly inner?: MathPiece },
  tex: string,
): string {
  const high = grows === 'always' || (grows === 'as needed' && inner !== undefined && isTall(inner));
  if (high) return `\\left${opening} ${tex} \\right${closing}`;
  // A delimiter that is a command must not run into the letter behind it.
  return opening.startsWith('\\') ? `${opening} ${tex} ${closing}` : opening + tex + closing;
}

function casesTex({ lines, large }: Extract<MathPiece, { type: 'cases' }>): string {
  const environment = (large ?? lines.some((cells) => cells.some(isTall))) ? 'dcases' : 'cases';
  const written = lines.map((cells) => cells.map(writeTex).join(' & ')).join(' \\\\ ');
  return `\\begin{${environment}} ${written} \\end{${environment}}`;
}

/** Words within a formula; every sign that LaTeX would read is escaped. */
function wordsTex(words: string): string {
  return `\\text{${[...words].map((character) => ESCAPES[character] ?? character).join('')}}`;
}

const ESCAPES: Readonly<Record<string, string>> = {
  '\\': '\\textbackslash{}',
  '^': '\\textasciicircum{}',
  '~': '\\textasciitilde{}',
  ...Object.fromEntries([...'{}$&#_%'].map((character) => [character, `\\${character}`])),
};
