import { describe, expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { withDefaults } from '../../../src/engine/definition/apply-defaults.ts';
import type { CompiledCalculation, CompiledCheck } from '../../../src/engine/definition/compiled.ts';
import type { Computation } from '../../../src/engine/definition/computation.ts';
import type { EvaluatedCheck, EvaluatedLimiting } from '../../../src/engine/definition/evaluated.ts';
import type { GivenInput, Inputs } from '../../../src/engine/definition/inputs.ts';
import { outside } from '../../../src/engine/definition/read-given.ts';
import { type RunOutcome, runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { compareValues } from '../../../src/formula/compare-values.ts';
import { evaluateCondition, evaluateFormula } from '../../../src/formula/evaluate-formula.ts';
import { displayEntered } from '../../../src/quantity/display.ts';
import { quantityFromSi, toSi } from '../../../src/quantity/quantity.ts';
import { readQuantity } from '../../../src/quantity/read-quantity.ts';
import { ENGLISH } from '../../../src/words/words.ts';
import { spread, trials } from '../../support/at-length.ts';
import { ordinaryInputs, type Random, randomFrom, within } from './ordinary-inputs.ts';

/**
 * Blocks with ordinary givens, drawn at random about the evidence of every calculation: what is printed as a limit is one, and
 * no number of a block contradicts its verdicts.
 */
const SEED = 20_471;
const BLOCKS = trials(1, 4);
/** Points within the ranges that are tried against what was said of the whole of them. */
const TRIALS = 12;
/** Steps of the last printed digit beyond a limiting value, where something must fail. */
const A_HAIR = 3;
/** They solve networks: minutes for a handful of blocks. Their verdicts are tried by their own tests. */
const SIMULATED = new Set(['surge-at-terminals', 'surge-network', 'surge-statistics']);

type Ran = Extract<RunOutcome, { ok: true }>;

const judged = [...CALCULATIONS.values()].filter(
  ({ definition, checks }) => checks.length > 0 && !SIMULATED.has(definition.name),
);

describe(`blocks of ordinary givens, seed ${SEED}`, () => {
  test.each(spread(judged, 15).map((calculation) => [calculation.definition.name, calculation] as const))(
    '%s',
    (_, of) => {
      const random = randomFrom(SEED, of.definition.name);
      const faults: string[] = [];
      let verdicts = 0;
      // Moved givens may leave the method: then another block is drawn.
      for (let drawn = 0, blocks = 0; (blocks < BLOCKS || verdicts === 0) && drawn < 20; drawn++) {
        const inputs = ordinaryInputs(of, random);
        const outcome = runCalculation(of, inputs);
        if (!outcome.ok) continue;
        blocks++;
        verdicts += outcome.evaluated.checks.filter(({ verdict }) => verdict !== 'cannot-be-judged').length;
        const found = [
          ...faultsOfChecks(of, outcome),
          ...outcome.evaluated.limiting.flatMap((limiting) => faultsOfLimiting(of, inputs, limiting, random)),
          ...faultsOverRanges(of, inputs, random),
        ];
        faults.push(...found.map((fault) => `${fault}; givens: ${wordInputs(inputs)}`));
      }
      expect(faults.slice(0, 3)).toEqual([]);
      // What a check still lacks is drawn from its usual range; without one it stays unjudged.
      expect(verdicts).toBeGreaterThan(0);
    },
  );
});

/** A verdict agrees with the numbers printed beside it, and none of the values that compete for it refutes it. */
function faultsOfChecks(of: CompiledCalculation, { evaluated, state }: Ran): string[] {
  return evaluated.checks.flatMap((check) => {
    const compiled = of.checks.find(({ name }) => name === check.name)!;
    const printed = faultOfPrint(check);
    const refuted = isMet(check) === true && valuesOf(compiled, state).includes(false);
    return [
      ...(printed === undefined ? [] : [printed]),
      ...(refuted ? [`${check.name}: '${check.verdict}', and a competing value fails`] : []),
    ];
  });
}

function faultOfPrint({
  name,
  verdict,
  value,
  limit,
  relation,
  ...check
}: EvaluatedCheck): string | undefined {
  if (value?.type !== 'number' || limit?.type !== 'number') return undefined;
  const met = isMet({ verdict });
  if (met === undefined) return undefined;
  const [v, l] = [value.displayed.value, limit.displayed.value];
  const reads = check.atLimit || v === l ? relation.includes('=') : compareValues(v, relation, l);
  return reads === met ? undefined : `${name}: ${v} ${relation} ${l} is said to be '${verdict}'`;
}

/** For each value that competes and can be computed, whether it keeps to its limit; worked out anew from the formulas. */
function valuesOf({ candidates, definition, when }: CompiledCheck, { values }: Computation): boolean[] {
  if (when && !holds(when, values)) return [];
  return candidates.flatMap((candidate) => {
    if (candidate.when && !holds(candidate.when, values)) return [];
    const [value, limit] = [candidate.value, candidate.limit].map((formula) =>
      evaluateFormula(formula, values),
    );
    if (!value!.ok || !limit!.ok) return [];
    return [compareValues(value!.value, definition.relation, limit!.value)];
  });
}

function holds(condition: Parameters<typeof evaluateCondition>[0], values: Computation['values']): boolean {
  const reading = evaluateCondition(condition, values);
  return reading.ok && reading.value;
}

function isMet({ verdict }: Pick<EvaluatedCheck, 'verdict'>): boolean | undefined {
  if (verdict === 'cannot-be-judged') return undefined;
  return verdict === 'complies' || verdict === 'met';
}

/** At a printed limiting value every check holds that it names; a hair beyond one fails, or the method ends. */
function faultsOfLimiting(
  of: CompiledCalculation,
  inputs: Inputs,
  { given, seek, result, checks }: EvaluatedLimiting,
  random: Random,
): string[] {
  const { permitted, usual, whole } = quantityGiven(of, given);
  const complies = (si: number) => compliesAt(of, inputs, given, si, checks);
  const said = (words: string, si: number) => [`${seek} ${given} ${words}, against ${si}`];
  if (result.type === 'number') {
    if (!complies(result.si))
      return said(`${result.displayed.text} is printed and does not comply`, result.si);
    const step = whole ? 1 : A_HAIR * result.displayed.lastDigit;
    const { displayed } = result;
    const beyond = toSi(displayed.value + (seek === 'largest' ? step : -step), displayed.unit);
    if (permitted && outside(beyond, permitted)) return [];
    return complies(beyond) ? said(`${result.displayed.text} is printed, and more complies`, beyond) : [];
  }
  if (result.type !== 'words') return [];
  const some = Array.from({ length: TRIALS }, () =>
    within(random, permitted, usual, whole, nominal(of, inputs, given)),
  );
  const words = ENGLISH.word(result.words);
  if (words === 'no value examined complies') return some.filter(complies).flatMap((si) => said(words, si));
  if (words === 'every permitted value examined complies')
    return some.filter((si) => !complies(si)).flatMap((si) => said(words, si));
  const ends = (
    /^(?:no limit (?:up|down) to|between) (.+?)(?: and (.+?)(?: only|; some values outside comply too))?$/.exec(
      words,
    ) ?? []
  )
    .slice(1)
    .filter(Boolean)
    .map(readPrint);
  if (ends.length === 0) return [`${given}: '${words}' is not understood`];
  const isWithin = (si: number) => (words.includes('down') ? si >= ends[0]! : si <= ends[0]!);
  const inside = ends.length === 1 ? some.filter(isWithin) : ends;
  return inside.filter((si) => !complies(si)).flatMap((si) => said(words, si));
}

/** What is said of whole ranges holds at points within them, and the value shown agrees with it. */
function faultsOverRanges(of: CompiledCalculation, inputs: Inputs, random: Random): string[] {
  const names = [...inputs].flatMap(([name, { value }]) => {
    const given = of.definition.givens[name];
    return value.type === 'quantity' && given?.type === 'quantity' && !given.whole ? [name] : [];
  });
  const axes = [0, 1].flatMap(() => names.splice(Math.floor(random() * names.length), 1));
  if (axes.length === 0) return [];
  const [low, high] = [0.8 + 0.2 * random(), 1 + 0.2 * random()];
  const ranged = new Map(inputs);
  for (const name of axes) {
    const input = inputs.get(name)!;
    if (input.value.type !== 'quantity') continue;
    const { si, unit } = input.value.quantity;
    const { permitted } = quantityGiven(of, name);
    if (permitted && (outside(si * low, permitted) || outside(si * high, permitted))) continue;
    ranged.set(name, {
      ...input,
      range: { low: quantityFromSi(si * low, unit), high: quantityFromSi(si * high, unit) },
    });
  }
  const outcome = runCalculation(of, ranged);
  if (!outcome.ok) return [];
  const faults = outcome.evaluated.checks.flatMap((check) => faultOfPrint(check) ?? []);
  const points = Array.from({ length: TRIALS }, () =>
    axes.reduce((point, name) => {
      const { range } = ranged.get(name)!;
      const at = range ? range.low.si + random() * (range.high.si - range.low.si) : undefined;
      return at === undefined ? point : put(of, point, name, at);
    }, inputs),
  );
  for (const point of points) {
    const there = runCalculation(withoutLimits(of), point);
    for (const check of outcome.evaluated.checks) {
      if (isMet(check) !== true) continue;
      const met = there.ok
        ? isMet(there.evaluated.checks.find(({ name }) => name === check.name) ?? check)
        : false;
      if (met !== true)
        faults.push(`${check.name}: '${check.verdict}' over ranges of ${axes.join(', ')}, not within`);
    }
    for (const { given, result, checks } of outcome.evaluated.limiting) {
      if (result.type !== 'number' || axes.includes(given)) continue;
      if (!compliesAt(of, point, given, result.si, checks))
        faults.push(
          `${given} ${result.displayed.text} over ranges of ${axes.join(', ')} does not comply within them`,
        );
    }
  }
  return faults;
}

function compliesAt(
  of: CompiledCalculation,
  inputs: Inputs,
  given: string,
  si: number,
  checks: readonly string[],
): boolean {
  const outcome = runCalculation(withoutLimits(of), put(of, inputs, given, si));
  if (!outcome.ok) return false;
  // A check that does not apply there asks nothing.
  return outcome.evaluated.checks
    .filter(({ name }) => checks.includes(name))
    .every((check) => isMet(check) === true);
}

/** The same calculation, judged alone: no limiting values, no figure. */
function withoutLimits(of: CompiledCalculation): CompiledCalculation {
  const { figure: _, ...definition } = of.definition;
  return { ...of, definition, limiting: [] };
}

function put(of: CompiledCalculation, inputs: Inputs, name: string, si: number): Inputs {
  const input = withDefaults(of, inputs).get(name);
  if (input?.value.type !== 'quantity') throw new Error(`${name} is no quantity`);
  const { unit } = input.value.quantity;
  const changed: GivenInput = {
    ...input,
    origin: 'given',
    value: { type: 'quantity', quantity: quantityFromSi(si, unit) },
  };
  return new Map(inputs).set(name, changed);
}

function nominal(of: CompiledCalculation, inputs: Inputs, name: string): number {
  const input = withDefaults(of, inputs).get(name);
  return input?.value.type === 'quantity' ? input.value.quantity.si : Number.NaN;
}

function quantityGiven({ definition }: CompiledCalculation, name: string) {
  const given = definition.givens[name];
  if (given?.type !== 'quantity') throw new Error(`${name} is no quantity`);
  return given;
}

/** A printed value: '1.40 m', '3.51 × 10⁷ km'. */
function readPrint(text: string): number {
  const plain = text
    .replaceAll('\u00a0', ' ')
    .replace(
      / × 10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)/,
      (_, power: string) => `e${[...power].map((digit) => RAISED[digit]).join('')}`,
    );
  const reading = readQuantity(plain);
  if (!reading.ok) throw new Error(`'${text}' cannot be read`);
  return reading.value.si;
}

const RAISED: Readonly<Record<string, string>> = Object.fromEntries(
  [...'⁻⁰¹²³⁴⁵⁶⁷⁸⁹'].map((digit, i) => [digit, '-0123456789'[i]!]),
);

function wordInputs(inputs: Inputs): string {
  return [...inputs]
    .map(([name, { value }]) => {
      if (value.type === 'quantity') return `${name} ${displayEntered(value.quantity).text}`;
      return `${name} ${value.type === 'choice' ? value.choice : '...'}`;
    })
    .join(', ');
}
