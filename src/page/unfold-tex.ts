/**
 * Writes the outermost fractions of a formula on one line, (a) / (b), and takes stretched parentheses for plain ones:
 * for lines that are wider than the page. What stands on one line can be broken; a fraction cannot.
 */
export function unfoldTex(tex: string): string {
  let unfolded = '';
  for (let i = 0; i < tex.length; ) {
    const fraction = tex.startsWith('\\frac{', i) ? readFraction(tex, i) : undefined;
    if (fraction) {
      unfolded += `${enclose(fraction.above)}\\,/\\,${enclose(fraction.below)}`;
      i = fraction.end;
      continue;
    }
    const stretched = /^\\(?:left|right)(?![A-Za-z])\s*(?=[()[\]])/.exec(tex.slice(i, i + 12));
    if (stretched) {
      i += stretched[0].length;
      continue;
    }
    // A group cannot be broken either way: it is passed over whole.
    const end = tex[i] === '{' ? groupEnd(tex, i) : tex[i] === '\\' ? commandEnd(tex, i) : i + 1;
    unfolded += tex.slice(i, end);
    i = end;
  }
  return unfolded;
}

function readFraction(tex: string, start: number): { above: string; below: string; end: number } | undefined {
  const aboveStart = start + '\\frac'.length;
  const aboveEnd = groupEnd(tex, aboveStart);
  if (tex[aboveEnd] !== '{') return undefined;
  const end = groupEnd(tex, aboveEnd);
  return { above: tex.slice(aboveStart + 1, aboveEnd - 1), below: tex.slice(aboveEnd + 1, end - 1), end };
}

/** Parentheses, except around a single symbol or number. */
function enclose(part: string): string {
  const inner = unfoldTex(part);
  return /^(?:\\?[A-Za-z]+|[\d.]+)$/.test(inner.trim()) ? inner : `(${inner})`;
}

function commandEnd(tex: string, start: number): number {
  return start + (/^\\(?:[A-Za-z]+|.)?/s.exec(tex.slice(start))?.[0].length ?? 1);
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
