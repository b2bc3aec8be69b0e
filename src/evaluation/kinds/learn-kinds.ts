import { Collector } from '../../diagnostics/collector.ts';
import type { Diagnostic } from '../../diagnostics/diagnostic.ts';
import { narrow } from '../../diagnostics/place.ts';
import { problem } from '../../diagnostics/problem.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import { inferKind } from '../../formula/infer-kind.ts';
import { parseFormula } from '../../formula/parse-formula.ts';
import { sameValue } from '../../memory/same-value.ts';
import {
  contradiction,
  describeAspect,
  joinTerms,
  type KindTerm,
  kindTerm,
  knownKind,
} from '../../quantity/kind-term.ts';
import { writeConversion } from '../../quantity/voltage-kind.ts';
import type { KindUse } from '../inputs/kind-use.ts';

type TermOf = (target: string) => KindTerm | undefined;

/** What came of joining the kinds of the values that a block takes. */
export interface LearntKinds {
  readonly diagnostics: readonly Diagnostic[];
  /** The givens with a value whose kind contradicts what the given is, or what the value is taken as elsewhere. */
  readonly failed: ReadonlySet<string>;
}

/**
 * Joins the kinds of the values that a block takes with those of the givens that take them.
 *
 * @param own the terms of the givens and columns of the block; those that it lacks are added
 * @param termOf the term of a value in the register or in another block; undefined where it is no voltage or current
 */
export function learnKinds(
  uses: readonly KindUse[],
  own: Map<string, KindTerm>,
  termOf: TermOf,
): LearntKinds {
  const collector = new Collector();
  const failed = new Set<string>();
  for (const use of uses) {
    const given = use.name.split('.')[0]!;
    // What is wrong with a value was said of it: its range need not repeat that.
    if (use.isBound && failed.has(given)) continue;
    if (!learn(use, own, termOf, collector)) failed.add(given);
  }
  return { diagnostics: collector.list(), failed };
}

function learn(use: KindUse, own: Map<string, KindTerm>, termOf: TermOf, collector: Collector): boolean {
  const { name, declared, place } = use;
  const reading = termOfUse(use, termOf, collector);
  if (!reading.ok) return false;
  const { term } = reading;
  if (!term) return true;
  const taken = own.get(name) ?? kindTerm(declared, { place, note: relatedNote('taken-as', { name }) });
  own.set(name, taken);
  if (contradiction(taken, term)) {
    reportContradiction(use, taken, term, collector);
    return false;
  }
  joinTerms(taken, term);
  return true;
}

type TermReading = { readonly ok: true; readonly term: KindTerm | undefined } | { readonly ok: false };

function termOfUse({ text, kind, place, from }: KindUse, termOf: TermOf, collector: Collector): TermReading {
  if (from.type === 'stated')
    return { ok: true, term: kindTerm(kind, { place, note: relatedNote('written-here', {}) }) };
  if (from.type === 'target') return { ok: true, term: termOf(from.target) };
  const parsed = parseFormula(text);
  if (!parsed.ok) throw new Error(`'${text}' was evaluated and cannot be parsed`);
  const terms = new Map(
    parsed.value.names.flatMap((target) => {
      const term = termOf(target);
      return term ? [[target, term] as const] : [];
    }),
  );
  const found = inferKind(parsed.value, from.symbols, terms);
  if (found.ok) return found;
  const at = narrow(place, found.problem.span, text.length);
  collector.error(found.problem.code, at, found.problem.data as never, found.because);
  return { ok: false };
}

function reportContradiction(use: KindUse, own: KindTerm, term: KindTerm, collector: Collector): void {
  const { name, text, inFormula, kind, place } = use;
  const aspect = contradiction(own, term)!;
  const [expected, actual] = [describeAspect(aspect, own[aspect]), describeAspect(aspect, term[aspect])];
  const conversion = writeConversion(inFormula, knownKind(term) ?? {}, knownKind(own) ?? {});
  const isLearnt = kind?.[aspect] === undefined && term[aspect].reason !== undefined;
  const fault = isLearnt
    ? problem('kind-serves-as-both', { name, expected, text, actual })
    : problem('wrong-voltage-kind', { name, expected, text, actual, conversion });
  const reasons = [own[aspect].reason, term[aspect].reason].filter((reason) => reason !== undefined);
  collector.error(
    fault.code,
    place,
    fault.data as never,
    reasons.filter((reason) => !sameValue(reason.place, place)),
  );
}
