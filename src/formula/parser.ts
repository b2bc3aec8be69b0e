import type { Span } from '../diagnostics/place.ts';
import type { Case, Comparison, FunctionName, Node } from './formula.ts';
import { fail } from './formula-fault.ts';
import { requireCondition, requireValue } from './node-kind.ts';
import { failAtUnexpected, meantFunctions } from './syntax-faults.ts';
import type { Token } from './tokenise.ts';
import { CONSTANTS, FUNCTIONS, isFunctionName, OVER } from './words.ts';

const DEEPEST_NESTING = 60;
const MOST_NODES = 1500;
const COMPARISONS: readonly string[] = ['<', '<=', '>', '>=', '=', '!='];

/**
 * Recursive descent over the tokens of one formula. From the weakest to the strongest: cases, or, and, not, comparison,
 * + -, leading minus, * /, ^ (to the right). Fails with the first problem.
 */
export class Parser {
  readonly #text: string;
  readonly #tokens: readonly Token[];
  readonly #names = new Set<string>();
  #next = 0;
  #depth = 0;
  #nodes = 0;

  constructor(text: string, tokens: readonly Token[]) {
    this.#text = text;
    this.#tokens = tokens;
  }

  /** Every name met, in order of appearance. */
  get names(): readonly string[] {
    return [...this.#names];
  }

  parseWhole(): Node {
    const root = this.#parseCases();
    if (this.#token.type !== 'end') this.#failAtUnexpected('an operator or the end of the formula');
    return root;
  }

  #parseCases(): Node {
    const first = this.#parseOr();
    if (!this.#isKeyword('when') && !this.#isKeyword('otherwise') && !this.#isSign(';')) return first;
    const cases: Case[] = [];
    let otherwise: Node | undefined;
    let value = first;
    while (true) {
      requireValue(value, this.#text);
      if (otherwise) fail('case-after-otherwise', { text: this.#slice(value.span) }, value.span);
      if (this.#takeKeyword('otherwise')) otherwise = value;
      else if (this.#takeKeyword('when')) {
        cases.push({ value, when: requireCondition(this.#parseOr(), this.#text) });
      } else fail('case-without-condition', { text: this.#slice(value.span) }, value.span);
      if (!this.#takeSign(';')) break;
      value = this.#parseOr();
    }
    const span = this.#spanFrom(first.span.start);
    return this.#make({ type: 'cases', cases, ...(otherwise ? { otherwise } : {}), span });
  }

  #parseOr(): Node {
    let left = this.#parseAnd();
    while (this.#takeKeyword('or')) left = this.#join('or', left, this.#parseAnd());
    return left;
  }

  #parseAnd(): Node {
    let left = this.#parseNot();
    while (this.#takeKeyword('and')) left = this.#join('and', left, this.#parseNot());
    return left;
  }

  #join(operator: 'and' | 'or', left: Node, right: Node): Node {
    requireCondition(left, this.#text);
    requireCondition(right, this.#text);
    return this.#make({ type: 'logic', operator, left, right, span: joinSpans(left, right) });
  }

  #parseNot(): Node {
    const { start } = this.#token.span;
    if (!this.#takeKeyword('not')) return this.#parseComparison();
    const operand = requireCondition(
      this.#nest(() => this.#parseNot()),
      this.#text,
    );
    return this.#make({ type: 'not', operand, span: { start, end: operand.span.end } });
  }

  #parseComparison(): Node {
    if (this.#isKeyword('given')) return this.#parseGiven();
    const left = this.#parseSum();
    if (this.#isKeyword('is')) return this.#parseChoice(left);
    const operator = this.#takeSign(...COMPARISONS) as Comparison | undefined;
    if (!operator) return left;
    const right = this.#parseSum();
    requireValue(left, this.#text);
    requireValue(right, this.#text);
    const span = joinSpans(left, right);
    if (this.#isSign(...COMPARISONS)) {
      fail('chained-comparison', { text: this.#slice(span) }, this.#token.span);
    }
    return this.#make({ type: 'comparison', operator, left, right, span });
  }

  #parseGiven(): Node {
    const { start } = this.#take().span;
    const token = this.#token;
    if (token.type !== 'word') return this.#failAtUnexpected("a name behind 'given'");
    this.#take();
    this.#names.add(token.text);
    return this.#make({ type: 'given', name: token.text, span: { start, end: token.span.end } });
  }

  #parseChoice(subject: Node): Node {
    this.#take();
    if (subject.type !== 'name') {
      fail(
        'formula-unexpected',
        { found: `'${this.#slice(subject.span)}'`, expected: "a name before 'is'" },
        subject.span,
      );
    }
    const negated = this.#takeKeyword('not');
    const token = this.#token;
    if (token.type !== 'option') return this.#failAtUnexpected("an option behind 'is'");
    this.#take();
    const span = { start: subject.span.start, end: token.span.end };
    const choice = this.#make({ type: 'choice', name: subject.name, option: token.text, span });
    return negated ? this.#make({ type: 'not', operand: choice, span }) : choice;
  }

  #parseSum(): Node {
    let left = this.#parseLeadingMinus(() => this.#parseProduct());
    for (let operator = this.#takeSign('+', '-'); operator; operator = this.#takeSign('+', '-')) {
      left = this.#binary(operator, left, this.#parseProduct());
    }
    return left;
  }

  #parseProduct(): Node {
    let left = this.#parseFactor();
    for (let operator = this.#takeSign('*', '/'); operator; operator = this.#takeSign('*', '/')) {
      left = this.#binary(operator, left, this.#parseFactor());
    }
    return left;
  }

  /** A factor may carry a minus of its own: a * -b. */
  #parseFactor(): Node {
    return this.#parseLeadingMinus(() => this.#parsePower());
  }

  #parseLeadingMinus(parseOperand: () => Node): Node {
    const { start } = this.#token.span;
    if (!this.#takeSign('-')) return parseOperand();
    const operand = requireValue(
      this.#nest(() => this.#parseLeadingMinus(parseOperand)),
      this.#text,
    );
    return this.#make({ type: 'negative', operand, span: { start, end: operand.span.end } });
  }

  #parsePower(): Node {
    let base = this.#parsePrimary();
    for (let raised = this.#takeRaised(); raised; raised = this.#takeRaised()) {
      base = this.#binary('^', base, raised);
    }
    if (!this.#takeSign('^')) return base;
    return this.#binary(
      '^',
      base,
      this.#nest(() => this.#parseFactor()),
    );
  }

  /** A superscript digit, as the number that it stands for. */
  #takeRaised(): Node | undefined {
    const { span } = this.#token;
    const sign = this.#takeSign('²', '³');
    if (!sign) return undefined;
    const text = sign === '²' ? '2' : '3';
    return this.#make({ type: 'number', text, value: Number(text), span });
  }

  #parsePrimary(): Node {
    const token = this.#token;
    switch (token.type) {
      case 'number':
      case 'quantity':
        this.#take();
        return this.#make(token);
      case 'word':
        return this.#parseWord(token.text, token.braced);
      case 'sign':
        if (token.text === '(') return this.#parseParentheses();
    }
    return this.#failAtUnexpected('a value');
  }

  #parseWord(word: string, braced: boolean): Node {
    const { span } = this.#take();
    if (!braced && this.#isSign('(')) return this.#parseCall(word, span);
    const constant = braced ? undefined : CONSTANTS.get(word);
    if (constant !== undefined) return this.#make({ type: 'number', text: word, value: constant, span });
    this.#names.add(word);
    return this.#make({ type: 'name', name: word, span });
  }

  #parseCall(name: string, nameSpan: Span): Node {
    if (!isFunctionName(name)) {
      return fail('unknown-function', { name, meant: meantFunctions(name) }, nameSpan);
    }
    const opening = this.#take();
    const values: Node[] = [];
    do {
      values.push(
        requireValue(
          this.#nest(() => this.#parseOr()),
          this.#text,
        ),
      );
    } while (this.#takeSign(','));
    const over = this.#parseOver(name, values.length);
    this.#close(opening);
    const span = this.#spanFrom(nameSpan.start);
    this.#checkArguments(name, values, span);
    return this.#make({ type: 'call', function: name, arguments: values, ...over, span });
  }

  /** The table behind `over`, where one is named: behind a whole value no other word can stand. */
  #parseOver(name: FunctionName, values: number): { over?: string } {
    const before = this.#token;
    if (before.type !== 'word' || before.braced || before.text !== OVER) return {};
    this.#take();
    if (!FUNCTIONS[name].overLists || values !== 1) {
      fail('over-without-run', { function: name }, before.span);
    }
    const token = this.#token;
    if (token.type !== 'word') return this.#failAtUnexpected("the name of a table behind 'over'");
    this.#take();
    return { over: token.text };
  }

  #checkArguments(name: FunctionName, values: readonly Node[], span: Span): void {
    if (FUNCTIONS[name].arguments === 'one' && values.length !== 1) {
      fail('argument-count', { function: name, expected: 'one argument', actual: values.length }, span);
    }
    const first = values[0]!;
    if (name === 'count' && first.type !== 'name') {
      fail('count-of-expression', { text: this.#slice(first.span) }, first.span);
    }
  }

  #parseParentheses(): Node {
    const opening = this.#take();
    const inner = this.#nest(() => this.#parseCases());
    this.#close(opening);
    return this.#make({ type: 'parentheses', inner, span: this.#spanFrom(opening.span.start) });
  }

  #close(opening: Token): void {
    if (this.#takeSign(')')) return;
    if (this.#token.type === 'end') fail('formula-unclosed', { opening: '(', closing: ')' }, opening.span);
    this.#failAtUnexpected("an operator or ')'");
  }

  #binary(operator: string, left: Node, right: Node): Node {
    requireValue(left, this.#text);
    requireValue(right, this.#text);
    const span = joinSpans(left, right);
    return this.#make({
      type: 'binary',
      operator: operator as '+' | '-' | '*' | '/' | '^',
      left,
      right,
      span,
    });
  }

  #make<N extends Node>(node: N): N {
    this.#nodes += 1;
    if (this.#nodes > MOST_NODES) fail('formula-too-large', { limit: MOST_NODES }, node.span);
    return node;
  }

  #nest<T>(parse: () => T): T {
    if (this.#depth >= DEEPEST_NESTING) {
      fail('formula-too-deep', { limit: DEEPEST_NESTING }, this.#token.span);
    }
    this.#depth += 1;
    const result = parse();
    this.#depth -= 1;
    return result;
  }

  get #token(): Token {
    return this.#tokens[this.#next]!;
  }

  #take(): Token {
    const token = this.#token;
    if (token.type !== 'end') this.#next += 1;
    return token;
  }

  #isSign(...signs: readonly string[]): boolean {
    return this.#token.type === 'sign' && signs.includes(this.#token.text);
  }

  #takeSign(...signs: readonly string[]): string | undefined {
    return this.#isSign(...signs) ? this.#take().text : undefined;
  }

  #isKeyword(word: string): boolean {
    return this.#token.type === 'keyword' && this.#token.text === word;
  }

  #takeKeyword(word: string): boolean {
    const taken = this.#isKeyword(word);
    if (taken) this.#take();
    return taken;
  }

  #failAtUnexpected(expected: string): never {
    return failAtUnexpected(this.#text, this.#tokens[this.#next - 1], this.#token, expected);
  }

  #spanFrom(start: number): Span {
    return { start, end: this.#tokens[this.#next - 1]!.span.end };
  }

  #slice(span: Span): string {
    return this.#text.slice(span.start, span.end);
  }
}

function joinSpans(left: Node, right: Node): Span {
  return { start: left.span.start, end: right.span.end };
}
