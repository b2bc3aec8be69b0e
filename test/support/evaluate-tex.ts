import { unit as mathUnit } from 'mathjs';

/**
 * Evaluates a printed line as a reader with a pocket calculator would: from the LaTeX text alone, in SI. It knows nothing
 * of the formula, the engine or its units; mathjs converts the units.
 */
export function evaluateTex(tex: string): number {
  const reader = new TexReader(tokenise(tex));
  const value = reader.expression();
  reader.end();
  return value;
}

interface Token {
  readonly type: 'number' | 'unit' | 'degC' | 'word' | 'sign';
  readonly text: string;
}

const TOKEN =
  /\s*(?:(\d+(?:\.\d+)?)|(\^\\circ\\mathrm\{C\})|(\^\\circ)|(?:\\(?:mathrm|text)\{([^}]*)\})?(\\Omega)|\\(?:mathrm|text)\{([^}]*)\}|(\\%)|\\operatorname\{([a-z]+)\}|\\([a-zA-Z]+)|(\\,|[-+/^{}(),[\]]))/y;

const SILENT = new Set(['left', 'right', 'nobreak', 'allowbreak']);

function tokenise(line: string): Token[] {
  // The base of the logarithm is that of the function of this name.
  const tex = line.replaceAll('\\log_{10}', '\\log');
  const tokens: Token[] = [];
  let position = 0;
  while (position < tex.trimEnd().length) {
    TOKEN.lastIndex = position;
    const match = TOKEN.exec(tex);
    if (!match) throw new Error(`cannot read '${tex.slice(position)}'`);
    position = TOKEN.lastIndex;
    const [, number, degC, degree, prefix, ohm, upright, percent, operator, word, sign] = match;
    if (number) tokens.push({ type: 'number', text: number });
    else if (degC) tokens.push({ type: 'degC', text: degC });
    else if (degree) tokens.push({ type: 'unit', text: 'deg' });
    else if (ohm) tokens.push({ type: 'unit', text: `${prefix ?? ''}ohm` });
    else if (upright) tokens.push({ type: 'unit', text: upright });
    else if (percent) tokens.push({ type: 'unit', text: '%' });
    else if (operator ?? word) tokens.push({ type: 'word', text: (operator ?? word)! });
    else if (sign !== '\\,') tokens.push({ type: 'sign', text: sign! });
  }
  // The size of parentheses says nothing, nor where a line may end.
  return tokens.filter(({ type, text }) => !(type === 'word' && SILENT.has(text)));
}

const FUNCTIONS: Readonly<Record<string, (...x: number[]) => number>> = {
  ln: Math.log,
  exp: Math.exp,
  max: Math.max,
  min: Math.min,
  sin: Math.sin,
  cos: Math.cos,
  tan: Math.tan,
  arcsin: Math.asin,
  arccos: Math.acos,
  arctan: Math.atan,
  sinh: Math.sinh,
  cosh: Math.cosh,
  tanh: Math.tanh,
  arsinh: Math.asinh,
  arcosh: Math.acosh,
  log: Math.log10,
};

class TexReader {
  readonly #tokens: readonly Token[];
  #at = 0;

  constructor(tokens: readonly Token[]) {
    this.#tokens = tokens;
  }

  end(): void {
    const token = this.#tokens[this.#at];
    if (token) throw new Error(`'${token.text}' stands where the line should end`);
  }

  expression(): number {
    let value = this.#take('-') ? this.#negative() : this.#term();
    for (;;) {
      if (this.#take('+')) value += this.#term();
      else if (this.#take('-')) value -= this.#term();
      else return value;
    }
  }

  /** The minus before a temperature belongs to its number: -15 °C are 258.15 K. */
  #negative(): number {
    const [number, unit] = [this.#tokens[this.#at], this.#tokens[this.#at + 1]];
    if (number?.type === 'number' && unit?.type === 'degC') return 2 * 273.15 - this.#term();
    return -this.#term();
  }

  #term(): number {
    let value = this.#factor();
    for (;;) {
      if (this.#takeWord('cdot') || this.#takeWord('times')) value *= this.#factor();
      else if (this.#take('/')) value /= this.#factor();
      else if (this.#peek()?.type === 'degC') {
        this.#at++;
        value += 273.15;
      } else if (this.#startsFactor()) value *= this.#factor();
      else return value;
    }
  }

  #factor(): number {
    if (this.#take('-')) return -this.#factor();
    const base = this.#base();
    if (!this.#take('^')) return base;
    return base ** this.#group();
  }

  #base(): number {
    const token = this.#tokens[this.#at++];
    if (!token) throw new Error('the line ends too early');
    if (token.type === 'number') return Number(token.text);
    if (token.type === 'unit') return siFactor(token.text);
    if (token.type === 'sign' && token.text === '(') return this.#until(')');
    if (token.text === 'lceil') return Math.ceil(this.#untilWord('rceil') - 1e-9);
    if (token.text === 'lfloor') return Math.floor(this.#untilWord('rfloor') + 1e-9);
    if (token.text === 'pi') return Math.PI;
    if (token.text === 'frac') return this.#group() / this.#group();
    if (token.text === 'sqrt') return Math.sqrt(this.#group());
    const call = FUNCTIONS[token.text];
    if (!call) throw new Error(`'${token.text}' is not known`);
    return call(...this.#arguments());
  }

  #arguments(): number[] {
    this.#expect('(');
    const values = [this.expression()];
    while (this.#take(',')) values.push(this.expression());
    this.#expect(')');
    return values;
  }

  #group(): number {
    this.#expect('{');
    return this.#until('}');
  }

  #until(close: string): number {
    const value = this.expression();
    this.#expect(close);
    return value;
  }

  #untilWord(word: string): number {
    const value = this.expression();
    if (!this.#takeWord(word)) throw new Error(`'${word}' is missing`);
    return value;
  }

  #startsFactor(): boolean {
    const token = this.#peek();
    if (!token) return false;
    if (token.type === 'number' || token.type === 'unit') return true;
    if (token.type === 'sign') return token.text === '(';
    return ['frac', 'sqrt', 'pi', 'lceil', 'lfloor', ...Object.keys(FUNCTIONS)].includes(token.text);
  }

  #peek(): Token | undefined {
    return this.#tokens[this.#at];
  }

  #take(sign: string): boolean {
    const token = this.#peek();
    if (token?.type !== 'sign' || token.text !== sign) return false;
    this.#at++;
    return true;
  }

  #takeWord(word: string): boolean {
    const token = this.#peek();
    if (token?.type !== 'word' || token.text !== word) return false;
    this.#at++;
    return true;
  }

  #expect(sign: string): void {
    if (!this.#take(sign))
      throw new Error(`'${sign}' is missing before '${this.#peek()?.text ?? 'the end'}'`);
  }
}

function siFactor(symbol: string): number {
  if (symbol === 'year') return 365 * 86_400;
  if (symbol === '%') return 0.01;
  if (symbol === 'deg') return Math.PI / 180;
  return mathUnit(1, symbol.replace('µ', 'u')).toSI().toNumber();
}
