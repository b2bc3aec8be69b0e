import type { Reading } from '../diagnostics/problem.ts';
import type { Formula } from './formula.ts';
import { attempt, fail } from './formula-fault.ts';
import { requireCondition, requireValue } from './node-kind.ts';
import { Parser } from './parser.ts';
import { tokenise } from './tokenise.ts';

/** The longest text that is read as one formula, in characters. */
const LONGEST_FORMULA = 4000;

/** Parses the text of a value: an expression or cases. Never throws; a fault is a problem with its span. */
export function parseFormula(text: string): Reading<Formula> {
  return attempt(() => {
    const formula = parse(text, 'line_lead + 0.3 m');
    requireValue(formula.root, text);
    return formula;
  });
}

/** Parses the text of a condition: a comparison, a choice, `given`, and their combinations. Never throws. */
export function parseCondition(text: string): Reading<Formula> {
  return attempt(() => {
    const formula = parse(text, 'line_lead <= 2 m');
    requireCondition(formula.root, text);
    return formula;
  });
}

function parse(text: string, example: string): Formula {
  if (text.trim() === '') fail('formula-empty', { example });
  if (text.length > LONGEST_FORMULA) {
    fail('formula-too-long', { length: text.length, limit: LONGEST_FORMULA });
  }
  const parser = new Parser(text, tokenise(text));
  const root = parser.parseWhole();
  return { text, root, names: parser.names };
}
