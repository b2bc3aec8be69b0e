import { nearestName } from '../diagnostics/nearest-name.ts';
import { separatorFault } from '../quantity/number-fault.ts';
import { fail, failWith } from './formula-fault.ts';
import type { Token } from './tokenise.ts';
import { FUNCTION_NAMES } from './words.ts';

/** Fails at a token that cannot stand where it does; the usual slips get a message of their own. */
export function failAtUnexpected(
  text: string,
  before: Token | undefined,
  token: Token,
  expected: string,
): never {
  if (before) failAtUsualSlip(text, before, token);
  fail('formula-unexpected', { found: describe(token, text), expected }, token.span);
}

function failAtUsualSlip(text: string, before: Token, token: Token): void {
  const span = { start: before.span.start, end: token.span.end };
  if (before.type === 'number') {
    const { start } = before.span;
    const separated = separatorFault(text.slice(start));
    if (separated && start + separated.length > before.span.end) {
      const number = separatorFault(text.slice(start, start + separated.length))!.problem;
      failWith(number, { start, end: start + separated.length });
    }
  }
  if (endsValue(before, text) && startsValue(token)) {
    const [left, right] = [before, token].map((t) => text.slice(t.span.start, t.span.end)) as [
      string,
      string,
    ];
    fail('missing-operator', { left, right: right === '(' ? '(...)' : right }, span);
  }
}

function endsValue(token: Token, text: string): boolean {
  if (token.type === 'number' || token.type === 'quantity' || token.type === 'word') return true;
  return token.type === 'sign' && text[token.span.start] === ')';
}

function startsValue(token: Token): boolean {
  if (token.type === 'number' || token.type === 'quantity' || token.type === 'word') return true;
  return token.type === 'sign' && token.text === '(';
}

function describe(token: Token, text: string): string {
  if (token.type === 'end') return 'the end of the formula';
  return `'${text.slice(token.span.start, token.span.end)}'`;
}

/** Functions by names that they have elsewhere. */
const OTHER_NAMES: Readonly<Record<string, readonly string[]>> = {
  log: ['ln', 'log10'],
  lg: ['log10'],
  pow: ['^'],
  root: ['sqrt'],
  ceiling: ['ceil'],
  total: ['sum'],
  prod: ['product'],
  arcsin: ['asin'],
  arccos: ['acos'],
  arctan: ['atan'],
};

/** The functions that an unknown name probably means. */
export function meantFunctions(name: string): readonly string[] {
  const other = Object.hasOwn(OTHER_NAMES, name) ? OTHER_NAMES[name] : undefined;
  if (other) return other;
  const nearest = nearestName(name, FUNCTION_NAMES);
  return nearest ? [nearest] : [];
}
