import { type MathPiece, rowOf, sign } from '../../formula/math-piece.ts';
import { splitTex } from '../../formula/tex-tokens.ts';

/**
 * An author's LaTeX as a piece, as far as it must be understood to be written on lines that can be broken: fractions, roots,
 * raised groups, delimiters that grow, cases. All else stays the LaTeX that it is. Undefined where a switch, which reaches
 * to the end of its group, would act on more when the braces go.
 */
export function readTex(tex: string): MathPiece | undefined {
  const tokens = splitTex(tex);
  return tokens.some((token) => SWITCHES.has(token)) ? undefined : new TexReader(tokens).row();
}

const SWITCHES = new Set(
  (
    'over above atop choose brace brack color rm bf it sf tt cal frak Bbb tiny scriptsize footnotesize small normalsize ' +
    'large Large LARGE huge Huge textstyle displaystyle scriptstyle scriptscriptstyle'
  )
    .split(' ')
    .map((name) => `\\${name}`),
);

/** Delimiters that can stand without growing. */
const PLAIN = new Set(['(', ')', '[', ']', '|', '\\lfloor', '\\rfloor', '\\lceil', '\\rceil']);
const DIGIT = /^[\d.]$/;

class TexReader {
  readonly #tokens: readonly string[];
  #at = 0;

  constructor(tokens: readonly string[]) {
    this.#tokens = tokens;
  }

  row(): MathPiece {
    const parts: MathPiece[] = [];
    while (this.#at < this.#tokens.length) parts.push(this.#part(parts.at(-1)));
    return rowOf(parts);
  }

  #part(before: MathPiece | undefined): MathPiece {
    const token = this.#tokens[this.#at]!;
    switch (token) {
      case '\\frac':
        return this.#fraction();
      case '\\sqrt':
        return this.#behind((radicand) => ({ type: 'root', radicand }));
      case '^':
        return this.#behind((exponent) => ({ type: 'power', base: symbol(''), exponent }));
      case '_':
        return this.#below();
      case '\\left':
        return this.#enclosed();
      case '\\begin':
        return this.#environment();
      case ',':
        return this.#comma();
      case '\\,':
        this.#at += 1;
        // Between the factors of a product stands a blank, and so it does before a unit.
        return before?.type === 'number' ? symbol(token) : sign('beside');
      default:
        return DIGIT.test(token) ? this.#number() : this.#raw();
    }
  }

  /** One token, or a group whole: a group cannot be broken. */
  #raw(): MathPiece {
    const start = this.#at;
    this.#at = this.#endOf(start);
    return symbol(this.#text(start, this.#at));
  }

  /** The end of what begins at a token: behind the brace that closes a group. */
  #endOf(start: number): number {
    let depth = 0;
    for (let i = start; i < this.#tokens.length; i += 1) {
      if (this.#tokens[i] === '{') depth += 1;
      if (this.#tokens[i] === '}') depth -= 1;
      if (depth <= 0) return i + 1;
    }
    return this.#tokens.length;
  }

  #text(start: number, end: number): string {
    return this.#tokens.slice(start, end).join('');
  }

  /** The group that begins at a token, without its braces; undefined where none does. */
  #group(start: number): { readonly inner: MathPiece; readonly end: number } | undefined {
    if (this.#tokens[start] !== '{') return undefined;
    const end = this.#endOf(start);
    return { inner: this.#read(start + 1, end - 1), end };
  }

  #read(start: number, end: number): MathPiece {
    return new TexReader(this.#tokens.slice(start, end)).row();
  }

  #fraction(): MathPiece {
    const above = this.#group(this.#at + 1);
    const below = above && this.#group(above.end);
    if (!above || !below) return this.#raw();
    this.#at = below.end;
    return { type: 'fraction', above: above.inner, below: below.inner };
  }

  /** A command and the group behind it; without a group the command alone. */
  #behind(make: (inner: MathPiece) => MathPiece): MathPiece {
    const group = this.#group(this.#at + 1);
    if (!group) return this.#raw();
    this.#at = group.end;
    return make(group.inner);
  }

  #below(): MathPiece {
    const start = this.#at;
    this.#at = this.#endOf(start + 1);
    return symbol(this.#text(start, this.#at));
  }

  #number(): MathPiece {
    const start = this.#at;
    while (DIGIT.test(this.#tokens[this.#at] ?? '')) this.#at += 1;
    return { type: 'number', number: { mantissa: this.#text(start, this.#at) } };
  }

  #comma(): MathPiece {
    this.#at += 1;
    if (this.#tokens[this.#at] !== '\\,') return symbol(',');
    this.#at += 1;
    return rowOf([symbol(','), sign('break'), symbol('\\,')]);
  }

  #enclosed(): MathPiece {
    const start = this.#at;
    const end = this.#closing(start, '\\left', '\\right');
    if (end === undefined) return this.#raw();
    const [open, close] = [this.#skipBlanks(start + 1), this.#skipBlanks(end + 1)];
    const [opening, closing] = [this.#tokens[open] ?? '', this.#tokens[close] ?? ''];
    this.#at = close + 1;
    if (!PLAIN.has(opening) || !PLAIN.has(closing)) return symbol(this.#text(start, this.#at));
    return { type: 'enclosed', opening, closing, inner: this.#read(open + 1, end), grows: 'always' };
  }

  #skipBlanks(start: number): number {
    let i = start;
    while (this.#tokens[i] !== undefined && this.#tokens[i]!.trim() === '') i += 1;
    return i;
  }

  #trimEnd(start: number, end: number): number {
    let i = end;
    while (i > start && this.#tokens[i - 1]!.trim() === '') i -= 1;
    return i;
  }

  /** Where what opens at a token is closed; undefined where it is not. */
  #closing(start: number, opening: string, closing: string): number | undefined {
    let depth = 0;
    for (let i = start; i < this.#tokens.length; i += 1) {
      if (this.#tokens[i] === opening) depth += 1;
      if (this.#tokens[i] === closing) depth -= 1;
      if (depth === 0) return i;
    }
    return undefined;
  }

  /** Cases line by line; any other environment stays as it is. */
  #environment(): MathPiece {
    const start = this.#at;
    const end = this.#closing(start, '\\begin', '\\end');
    if (end === undefined) return this.#raw();
    const bodyStart = this.#endOf(start + 1);
    this.#at = this.#endOf(end + 1);
    const name = this.#text(start + 1, bodyStart);
    if (name !== '{cases}' && name !== '{dcases}') return symbol(this.#text(start, this.#at));
    const lines = this.#split(bodyStart, end, '\\\\').map(([from, to]) =>
      this.#split(from, to, '&').map(([first, last]) =>
        this.#read(this.#skipBlanks(first), this.#trimEnd(first, last)),
      ),
    );
    return { type: 'cases', lines, large: name === '{dcases}' };
  }

  /** Stretches between the separators that stand in no group and no environment. */
  #split(start: number, end: number, separator: string): [number, number][] {
    const parts: [number, number][] = [];
    let from = start;
    let depth = 0;
    for (let i = start; i < end; i += 1) {
      const token = this.#tokens[i]!;
      if (token === '{' || token === '\\begin') depth += 1;
      if (token === '}' || token === '\\end') depth -= 1;
      if (depth > 0 || token !== separator) continue;
      parts.push([from, i]);
      from = i + 1;
    }
    return [...parts, [from, end]];
  }
}

/** An author's LaTeX in which a number and its power of ten stand on one line. */
export function keepPowers(tex: string): string {
  const tokens = splitTex(tex);
  return tokens.map((token, i) => (isBeforePower(tokens, i) ? `${token}\\nobreak ` : token)).join('');
}

function isBeforePower(tokens: readonly string[], at: number): boolean {
  if (tokens[at] !== '\\times') return false;
  const behind = tokens.slice(at + 1, at + 5).filter((token) => token !== ' ');
  return behind.slice(0, 3).join('') === '10^';
}

function symbol(tex: string): MathPiece {
  return { type: 'symbol', tex };
}
