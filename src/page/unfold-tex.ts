/** How far a formula is taken apart. */
export type Unfolding = 'fractions' | 'everything';

/**
 * Writes the outermost fractions of a formula on one line, (a) / (b), takes stretched delimiters for plain ones, and lets
 * the arguments of functions stand on lines of their own: for lines that are wider than the page. What stands on one
 * line can be broken; a fraction cannot. With 'everything', roots, exponents of many signs and cases go the same way:
 * (a)^{1/2}, a ^ (b + c), and 'a if b; c otherwise'.
 */
export function unfoldTex(tex: string, unfolding: Unfolding = 'fractions'): string {
  // A switch reaches to the end of its group: it would act on more where the braces go.
  return SWITCH.test(tex) ? tex : unfold(tex, unfolding);
}

const SWITCH =
  /\\(?:over|above|atop|choose|brace|brack|color|rm|bf|it|sf|tt|cal|frak|Bbb|tiny|scriptsize|footnotesize|small|normalsize|large|Large|LARGE|huge|Huge|(?:text|display|script|scriptscript)style)(?![A-Za-z])/;

function unfold(tex: string, unfolding: Unfolding): string {
  let unfolded = '';
  for (let i = 0; i < tex.length; ) {
    const piece =
      readFraction(tex, i, unfolding) ?? (unfolding === 'everything' ? readOther(tex, i) : undefined);
    if (piece) {
      unfolded += piece.tex;
      i = piece.end;
      continue;
    }
    const stretched = /^\\(?:left|right)(?![A-Za-z])\s*(?=[()[\]|]|\\[lr](?:floor|ceil)(?![A-Za-z]))/.exec(
      tex.slice(i, i + 20),
    );
    if (stretched) {
      i += stretched[0].length;
      continue;
    }
    if (tex.startsWith(',\\,', i)) {
      unfolded += ',\\allowbreak\\,';
      i += 3;
      continue;
    }
    // Between the factors of a product stands a blank, and so it does before a unit.
    if (
      unfolding === 'everything' &&
      tex.startsWith('\\,', i) &&
      !/(?:^|[^_^\w])[\d.]+$/.test(unfolded.slice(-40))
    ) {
      unfolded += '\\,\\allowbreak ';
      i += 2;
      continue;
    }
    // A group cannot be broken either way: it is passed over whole.
    const end = tex[i] === '{' ? groupEnd(tex, i) : tex[i] === '\\' ? commandEnd(tex, i) : i + 1;
    unfolded += tex.slice(i, end);
    i = end;
  }
  return unfolded;
}

/** A part of a formula as it is written instead, and where it ends. */
interface Rewritten {
  readonly tex: string;
  readonly end: number;
}

function readFraction(tex: string, start: number, unfolding: Unfolding): Rewritten | undefined {
  if (!tex.startsWith('\\frac{', start)) return undefined;
  const aboveStart = start + '\\frac'.length;
  const aboveEnd = groupEnd(tex, aboveStart);
  if (tex[aboveEnd] !== '{') return undefined;
  const end = groupEnd(tex, aboveEnd);
  const [above, below] = [tex.slice(aboveStart + 1, aboveEnd - 1), tex.slice(aboveEnd + 1, end - 1)];
  return { tex: `${enclose(above, unfolding)}\\,/\\,${enclose(below, unfolding)}`, end };
}

/** An exponent of fewer signs stays raised. */
const LONG_EXPONENT = 40;

function readOther(tex: string, start: number): Rewritten | undefined {
  if (tex.startsWith('\\sqrt{', start)) {
    const open = start + '\\sqrt'.length;
    const end = groupEnd(tex, open);
    return { tex: `(${unfold(tex.slice(open + 1, end - 1), 'everything')})^{1/2}`, end };
  }
  if (tex.startsWith('^{', start)) {
    const end = groupEnd(tex, start + 1);
    const exponent = tex.slice(start + 2, end - 1);
    if (exponent.length < LONG_EXPONENT) return undefined;
    return { tex: `\\mathbin{\\text{\\textasciicircum}}(${unfold(exponent, 'everything')})`, end };
  }
  return readCases(tex, start);
}

const CASES = /^\\begin\{(d?cases)\}/;

function readCases(tex: string, start: number): Rewritten | undefined {
  const opening = CASES.exec(tex.slice(start, start + 20));
  if (!opening) return undefined;
  const closing = `\\end{${opening[1]}}`;
  const bodyEnd = tex.indexOf(closing, start);
  const body = tex.slice(start + opening[0].length, bodyEnd);
  if (bodyEnd < 0 || body.includes('\\begin')) return undefined;
  const lines = splitOutside(body, '\\\\').map((line) =>
    splitOutside(line, '&')
      .map((cell) => unfold(cell.trim(), 'everything'))
      .join('\\ \\allowbreak '),
  );
  return { tex: lines.join(';\\allowbreak\\; '), end: bodyEnd + closing.length };
}

/** Parts between the separators that stand in no group. */
function splitOutside(tex: string, separator: string): string[] {
  const parts = [''];
  for (let i = 0; i < tex.length; ) {
    if (tex.startsWith(separator, i)) {
      parts.push('');
      i += separator.length;
      continue;
    }
    const end = tex[i] === '{' ? groupEnd(tex, i) : tex[i] === '\\' ? commandEnd(tex, i) : i + 1;
    parts[parts.length - 1] += tex.slice(i, end);
    i = end;
  }
  return parts;
}

/** Parentheses, except around a single symbol or number. */
function enclose(part: string, unfolding: Unfolding): string {
  const inner = unfold(part, unfolding);
  return /^(?:\\?[A-Za-z]+|[\d.]+)$/.test(inner.trim()) ? inner : `(${inner})`;
}

function commandEnd(tex: string, start: number): number {
  return start + (/^\\(?:[A-Za-z]+|.)?/s.exec(tex.slice(start, start + 40))?.[0].length ?? 1);
}

/** Where the group that opens here has closed. */
function groupEnd(tex: string, start: number): number {
  let depth = 0;
  for (let i = start; i < tex.length; i += 1) {
    if (tex[i] === '\\') i += 1;
    else if (tex[i] === '{') depth += 1;
    else if (tex[i] === '}') {
      depth -= 1;
      if (depth === 0) return i + 1;
    }
  }
  return tex.length;
}
