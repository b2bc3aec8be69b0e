import { nameLookAlikes } from './look-alikes.ts';
import { type Code, type DataOf, wordMessage } from './messages.ts';
import { narrow, type Place } from './place.ts';
import type { Problem } from './problem.ts';

export type Severity = 'error' | 'caution';

/** Another place that explains a diagnostic, with a word on what stands there. */
export interface RelatedPlace {
  readonly place: Place;
  readonly note: string;
}

/** One message about the project's source: where, what, and what to write instead. */
export interface Diagnostic {
  readonly severity: Severity;
  readonly code: string;
  readonly place: Place;
  readonly message: string;
  readonly hint?: string;
  readonly related?: readonly RelatedPlace[];
}

/** Words a message of the table at a place. */
export function diagnose<C extends Code>(
  severity: Severity,
  code: C,
  place: Place,
  data: DataOf<C>,
  related?: readonly RelatedPlace[],
): Diagnostic {
  const { message, hint } = wordMessage(code, cut(data));
  const alike = REFUSES_WORDS.test(code) ? nameLookAlikes(quoted(data)) : '';
  return {
    severity,
    code,
    place,
    message: alike === '' ? message : `${message}; ${alike}`,
    ...(hint === undefined ? {} : { hint }),
    ...(related && related.length > 0 ? { related } : {}),
  };
}

/** Messages that refuse a word as it is spelt, and the data in which they quote it. */
const REFUSES_WORDS =
  /^(?:unknown-|malformed-|not-a-(?:quantity|unit|date)|not-an-option|no-such-option|formula-character|reference-incomplete|missing-operator)/;
const QUOTED = [
  'text',
  'unit',
  'name',
  'key',
  'word',
  'character',
  'option',
  'column',
  'target',
  'caution',
  'right',
];

function quoted(data: object): string {
  const words = Object.entries(data).filter(
    ([key, value]) => QUOTED.includes(key) && typeof value === 'string',
  );
  return words
    .map(([, word]) => word as string)
    .join('')
    .slice(0, LONGEST_QUOTE);
}

const LONGEST_QUOTE = 200;

/** The data with long texts cut: a message quotes enough of a text to know it by. */
function cut<D extends object>(data: D): D {
  const entries = Object.entries(data).map(([key, value]) => {
    const long = typeof value === 'string' && value.length > LONGEST_QUOTE;
    return [key, long ? `${value.slice(0, LONGEST_QUOTE - 1)}…` : value];
  });
  return Object.fromEntries(entries);
}

/** Gives a problem its place; `textLength` is the length of the text in which the problem's span counts. */
export function locate(problem: Problem, place: Place, textLength = -1): Diagnostic {
  return diagnose('error', problem.code, narrow(place, problem.span, textLength), problem.data as never);
}

/** Orders diagnostics as a reader meets them: by file, line, column; errors first on one spot. */
export function byPlace(a: Diagnostic, b: Diagnostic): number {
  const [p, q] = [a.place, b.place];
  if (p.file !== q.file) return p.file < q.file ? -1 : 1;
  if (p.line !== q.line) return p.line - q.line;
  if (p.column !== q.column) return p.column - q.column;
  if (a.severity !== b.severity) return a.severity === 'error' ? -1 : 1;
  return a.message < b.message ? -1 : a.message > b.message ? 1 : 0;
}

export function hasErrors(diagnostics: readonly Diagnostic[]): boolean {
  return diagnostics.some((d) => d.severity === 'error');
}
