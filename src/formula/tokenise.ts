import type { Span } from '../diagnostics/place.ts';
import { listCommaFault } from '../quantity/number-fault.ts';
import { isComputable } from '../quantity/read-quantity.ts';
import type { Unit } from '../quantity/unit.ts';
import { fail, failWith } from './formula-fault.ts';
import { readUnitRun } from './read-unit-run.ts';
import { KEYWORDS } from './words.ts';

/** One word or sign of a formula. `text` is normalised: × and · are *, − is -, ≤ is <=. */
export type Token =
  | { readonly type: 'number'; readonly text: string; readonly value: number; readonly span: Span }
  | {
      readonly type: 'quantity';
      readonly text: string;
      readonly value: number;
      readonly unit: Unit;
      readonly span: Span;
    }
  /** A name, a function, or in braces a reference; `text` is without the braces. */
  | { readonly type: 'word'; readonly text: string; readonly braced: boolean; readonly span: Span }
  | { readonly type: 'keyword'; readonly text: string; readonly span: Span }
  | { readonly type: 'option'; readonly text: string; readonly span: Span }
  | { readonly type: 'sign'; readonly text: string; readonly span: Span }
  | { readonly type: 'end'; readonly text: string; readonly span: Span };

const BLANKS = /\s*/y;
const NUMBER = /(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?/y;
const WORD = /[A-Za-z][A-Za-z0-9_]*(?:\.[A-Za-z][A-Za-z0-9_]*)*/y;
const SIGN = /<=|>=|!=|[-+*/^()=<>,;·×⋅−≤≥≠²³]/y;
const OPTION = /[A-Za-z0-9](?:[A-Za-z0-9_-]|[./](?=[A-Za-z0-9]))*/y;
const NOT = /not(?![A-Za-z0-9_-])/y;

const SIGN_VARIANTS: Readonly<Record<string, string>> = {
  '·': '*',
  '⋅': '*',
  '×': '*',
  '−': '-',
  '≤': '<=',
  '≥': '>=',
  '≠': '!=',
};

/** Signs of other languages, and what stands for them here. */
const INSTEAD: Readonly<Record<string, string>> = {
  '[': "'('",
  ']': "')'",
  '&': "'and'",
  '|': "'or', or abs(...) for a magnitude",
  '!': "'not' or '!='",
  '÷': "'/'",
  '√': 'sqrt(...)',
  Σ: 'sum(...)',
  π: "'pi'",
  '?': "'VALUE when CONDITION; VALUE otherwise'",
  ':': "'VALUE when CONDITION; VALUE otherwise'",
};

/** Cuts a formula into its words and signs; ends with a token of type 'end'. Fails with a problem. */
export function tokenise(text: string): Token[] {
  const tokens: Token[] = [];
  let position = skipBlanks(text, 0);
  let depth = 0;
  while (position < text.length) {
    const token = readToken(text, position);
    tokens.push(token);
    if (token.type === 'sign') depth += token.text === '(' ? 1 : token.text === ')' ? -1 : 0;
    if (token.type === 'number' && depth > 0) refuseTouchingComma(text, token.span);
    position = skipBlanks(text, token.span.end);
    if (token.type === 'keyword' && token.text === 'is') {
      const read = readOption(text, position);
      tokens.push(...read);
      position = skipBlanks(text, read.at(-1)?.span.end ?? position);
    }
  }
  tokens.push({ type: 'end', text: '', span: { start: text.length, end: text.length } });
  return tokens;
}

function readToken(text: string, start: number): Token {
  const number = match(NUMBER, text, start);
  if (number !== undefined) return readNumber(text, number, start);
  const word = match(WORD, text, start);
  if (word !== undefined) {
    const span = { start, end: start + word.length };
    if (KEYWORDS.has(word)) return { type: 'keyword', text: word, span };
    return { type: 'word', text: word, braced: false, span };
  }
  if (text[start] === '{') return readReference(text, start);
  const sign = match(SIGN, text, start);
  if (sign === undefined) return failAtCharacter(text, start);
  return { type: 'sign', text: SIGN_VARIANTS[sign] ?? sign, span: { start, end: start + sign.length } };
}

function readNumber(text: string, number: string, start: number): Token {
  const end = start + number.length;
  const value = Number(number);
  if (!isComputable(value, number)) fail('number-out-of-range', { text: number }, { start, end });
  const run = readUnitRun(text, end, number);
  if (!run) return { type: 'number', text: number, value, span: { start, end } };
  return {
    type: 'quantity',
    text: text.slice(start, run.end),
    value,
    unit: run.unit,
    span: { start, end: run.end },
  };
}

/** `max(a, 1,5)`: between arguments a comma that touches digits on both sides may be meant as a decimal sign. */
function refuseTouchingComma(text: string, { start, end }: Span): void {
  const behind = /^(?:,\d+)+/.exec(text.slice(end))?.[0];
  if (behind === undefined) return;
  failWith(listCommaFault(text.slice(start, end + behind.length).split(',')), {
    start,
    end: end + behind.length,
  });
}

function readReference(text: string, start: number): Token {
  const close = text.indexOf('}', start);
  const next = text.indexOf('{', start + 1);
  if (close < 0 || (next >= 0 && next < close)) {
    fail('formula-unclosed', { opening: '{', closing: '}' }, { start, end: start + 1 });
  }
  const name = text.slice(start + 1, close).trim();
  const span = { start, end: close + 1 };
  if (name === '') fail('formula-unexpected', { found: "'{}'", expected: 'a reference in braces' }, span);
  return { type: 'word', text: name, braced: true, span };
}

/** Behind `is` stands an option, which may have hyphens and digits; before it perhaps `not`. */
function readOption(text: string, start: number): Token[] {
  const tokens: Token[] = [];
  let position = start;
  if (match(NOT, text, position) !== undefined) {
    tokens.push({ type: 'keyword', text: 'not', span: { start: position, end: position + 3 } });
    position = skipBlanks(text, position + 3);
  }
  const option = match(OPTION, text, position);
  if (option !== undefined) {
    tokens.push({
      type: 'option',
      text: option,
      span: { start: position, end: position + option.length },
    });
  }
  return tokens;
}

function failAtCharacter(text: string, start: number): never {
  const character = String.fromCodePoint(text.codePointAt(start)!);
  fail(
    'formula-character',
    { character, instead: INSTEAD[character] },
    { start, end: start + character.length },
  );
}

function match(pattern: RegExp, text: string, position: number): string | undefined {
  pattern.lastIndex = position;
  return pattern.exec(text)?.[0];
}

function skipBlanks(text: string, position: number): number {
  BLANKS.lastIndex = position;
  BLANKS.exec(text);
  return BLANKS.lastIndex;
}
