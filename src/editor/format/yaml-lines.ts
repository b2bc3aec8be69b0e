import { CST, Lexer } from 'yaml';

/** A token of YAML with the blanks before it on its line. */
export interface Token {
  readonly type: string;
  readonly source: string;
  readonly gap: string;
}

/** A line of YAML by its tokens; a text over several lines is one token of the line on which it begins. */
export interface YamlLine {
  readonly column: number;
  readonly tokens: readonly Token[];
  /** How many braces and brackets are open where it begins. */
  readonly depth: number;
  /** The lines of a block scalar that follow it. */
  readonly blockText?: string;
}

/** Forms that this language does not use, or that cannot be set otherwise in safety. */
const LEFT_ALONE = new Set([
  'alias',
  'anchor',
  'directive-line',
  'doc-end',
  'doc-start',
  'error',
  'explicit-key-ind',
  'flow-error-end',
]);

/** Parts a text into lines and tokens; undefined where it has a form that is left alone. */
export function partYaml(text: string): readonly YamlLine[] | undefined {
  return new LineParter(text).part();
}

class LineParter {
  readonly #text: string;
  readonly #lines: YamlLine[] = [];
  #tokens: Token[] = [];
  #gap = '';
  #column = 0;
  #depth = 0;
  #depthAtStart = 0;
  #awaitsBlockText = false;

  constructor(text: string) {
    this.#text = text;
  }

  part(): readonly YamlLine[] | undefined {
    let isScalar = false;
    for (const source of new Lexer().lex(this.#text)) {
      if (isScalar) this.#takeScalar(source);
      else if (!this.#take(CST.tokenType(source) ?? 'error', source)) return undefined;
      isScalar = CST.tokenType(source) === 'scalar';
    }
    this.#endLine();
    return this.#lines;
  }

  #take(type: string, source: string): boolean {
    if (LEFT_ALONE.has(type)) return false;
    if (type === 'doc-mode' || type === 'scalar' || type === 'byte-order-mark') return true;
    if (type === 'newline') this.#endLine();
    else if (type === 'space') this.#takeSpace(source);
    else this.#add(type, source);
    return true;
  }

  #takeSpace(source: string): void {
    if (this.#tokens.length === 0) this.#column = source.length;
    else this.#gap = source;
  }

  #takeScalar(source: string): void {
    if (this.#awaitsBlockText) {
      const last = this.#lines.pop()!;
      this.#lines.push({ ...last, blockText: source });
      this.#awaitsBlockText = false;
    } else this.#add('scalar', source);
  }

  #add(type: string, source: string): void {
    this.#tokens.push({ type, source, gap: this.#gap });
    this.#gap = '';
    if (type === 'flow-map-start' || type === 'flow-seq-start') this.#depth += 1;
    if (type === 'flow-map-end' || type === 'flow-seq-end') this.#depth -= 1;
  }

  #endLine(): void {
    this.#lines.push({ column: this.#column, tokens: this.#tokens, depth: this.#depthAtStart });
    this.#awaitsBlockText = this.#tokens.some(({ type }) => type === 'block-scalar-header');
    this.#tokens = [];
    this.#gap = '';
    this.#column = 0;
    this.#depthAtStart = this.#depth;
  }
}
