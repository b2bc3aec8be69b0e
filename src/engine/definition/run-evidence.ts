import { wordMessage } from '../../diagnostics/messages.ts';
import type { Problem } from '../../diagnostics/problem.ts';
import { sameDimension } from '../../quantity/dimension.ts';
import { displaySi, USUAL_DIGITS } from '../../quantity/display.ts';
import { fromSi, type Quantity, toSi } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { Text } from '../../words/sentence.ts';
import type { CompiledCalculation, CompiledGiven } from './compiled.ts';
import type { Evidence, EvidenceGiven, Expectation } from './definition.ts';
import type { EvaluatedCalculation } from './evaluated.ts';
import type { GivenInput, Inputs } from './inputs.ts';
import { readGivenText } from './read-given.ts';
import { runCalculation } from './run-calculation.ts';
import type { ResultValue, Value } from './value.ts';

/** One expectation of a piece of evidence beside what the engine gives. */
export interface EvidenceLine {
  readonly name: string;
  readonly expected: string;
  readonly found: string;
  readonly agrees: boolean;
  /** Where numbers were compared and were found: one pair, or one for each item of a list. */
  readonly numbers?: readonly ComparedNumber[];
}

/** A number that is expected and the one that was found, both in the unit of what is expected. */
export interface ComparedNumber {
  /** As it is written in the evidence. */
  readonly printed: string;
  readonly unit: Unit;
  readonly expected: number;
  readonly found: number;
  /** How far they may lie apart. */
  readonly tolerance: number;
}

/** Runs one piece of evidence. Throws where its givens are not accepted: then the evidence is wrong, or the engine. */
export function runEvidence(calculation: CompiledCalculation, evidence: Evidence): EvidenceLine[] {
  const outcome = runCalculation(calculation, evidenceInputs(calculation, evidence.given));
  if (!outcome.ok) {
    throw new Error(outcome.faults.map((fault) => say(fault.problem)).join('; '));
  }
  return Object.entries(evidence.expect).map(([name, expectation]) => {
    const line = compareOne(outcome.evaluated, name, expectation);
    return evidence.kind === 'refuted'
      ? { ...line, expected: `not ${line.expected}`, agrees: !line.agrees }
      : line;
  });
}

/** Givens written as in a note, read for a calculation; for evidence and for tests. */
export function evidenceInputs(
  calculation: CompiledCalculation,
  given: Readonly<Record<string, EvidenceGiven>>,
): Inputs {
  return new Map(
    Object.entries(given).map(([name, written]): [string, GivenInput] => {
      const compiled = calculation.givens.get(name);
      if (!compiled) throw new Error(`${calculation.definition.name} has no given '${name}'`);
      return [name, { value: readValue(compiled, written), origin: 'given' }];
    }),
  );
}

function readValue(given: CompiledGiven, written: EvidenceGiven): Value {
  const { definition, name, unit } = given;
  if (definition.type === 'choice') {
    if (!(String(written) in definition.options))
      throw new Error(`'${written}' is not an option of '${name}'`);
    return { type: 'choice', choice: String(written) };
  }
  if (definition.type === 'quantity') {
    return { type: 'quantity', quantity: take(readGivenText(name, definition, unit, String(written))) };
  }
  if (!Array.isArray(written)) throw new Error(`'${name}' must be a list`);
  if (definition.type === 'names') {
    return { type: 'rows', rows: written.map((item) => ({ name: String(item) })) };
  }
  if (definition.type === 'list') {
    return {
      type: 'list',
      items: written.map((item) => take(readGivenText(name, definition, unit, String(item)))),
    };
  }
  const rows = (written as readonly Readonly<Record<string, string | number>>[]).map((row) =>
    Object.fromEntries(
      Object.entries(definition.columns).flatMap(([column, inner]): [string, Quantity | string][] => {
        const text = row[column] ?? ('default' in inner ? inner.default?.value : undefined);
        if (text === undefined && inner.optional) return [];
        if (text === undefined) throw new Error(`a row of '${name}' has no '${column}'`);
        if (inner.type !== 'quantity') return [[column, String(text)]];
        return [[column, take(readGivenText(column, inner, given.columnUnits.get(column)!, String(text)))]];
      }),
    ),
  );
  return { type: 'rows', rows };
}

function compareOne(evaluated: EvaluatedCalculation, name: string, expectation: Expectation): EvidenceLine {
  if ('verdict' in expectation) {
    const verdict = evaluated.checks.find((check) => check.name === name)?.verdict ?? '(no such check)';
    return { name, expected: expectation.verdict, found: verdict, agrees: verdict === expectation.verdict };
  }
  const result = evaluated.steps.find((step) => step.name === name)?.result;
  if ('words' in expectation) {
    const found = result?.type === 'words' ? inDefinition(result.words) : '(a number)';
    return { name, expected: expectation.words, found, agrees: found === expectation.words };
  }
  if ('choice' in expectation) {
    const found = result?.type === 'choice' ? result.choice : '(not a choice)';
    return { name, expected: expectation.choice, found, agrees: found === expectation.choice };
  }
  const printed = 'items' in expectation ? expectation.items : [expectation.value];
  const expected = printed.map((text) => take(readQuantity(text)));
  const margin = take(readQuantity(expectation.tolerance));
  const tolerance = margin.si;
  if (result && 'unit' in result) requireDimension(name, result.unit, [...expected, margin]);
  const said = `${printed.join('; ')} ± ${expectation.tolerance}`;
  const found = numbersOf(result);
  if (!found) return { name, expected: said, found: '(no number)', agrees: false };
  const agrees =
    found.length === expected.length && found.every((si, i) => isWithin(si, expected[i]!.si, tolerance));
  const shown = found.map((si, i) => showFound(si, expected[i] ?? expected[0]!, tolerance));
  const numbers =
    found.length === expected.length
      ? printed.map((text, i) => compareNumbers(text, found[i]!, expected[i]!, tolerance))
      : [];
  return { name, expected: said, found: shown.join('; '), agrees, numbers };
}

function compareNumbers(printed: string, si: number, expected: Quantity, tolerance: number): ComparedNumber {
  const { unit } = expected;
  const value = fromSi(expected.si, unit);
  // A scale of temperature has an offset, and a tolerance has none.
  const apart = fromSi(expected.si + tolerance, unit) - value;
  return { printed, unit, expected: value, found: fromSi(si, unit), tolerance: apart };
}

function requireDimension(name: string, unit: Unit, values: readonly Quantity[]): void {
  const other = values.find((value) => !sameDimension(value.unit.dimension, unit.dimension));
  if (other) throw new Error(`'${name}' is in ${unit.text}, and evidence gives it in ${other.unit.text}`);
}

/** What was found, in the unit of what is expected, with the digits that tell on which side of the tolerance it lies. */
function showFound(si: number, expected: Quantity, tolerance: number): string {
  const within = isWithin(si, expected.si, tolerance);
  for (let digits = USUAL_DIGITS; ; digits++) {
    const shown = displaySi(si, expected.unit, { digits });
    const agrees = isWithin(toSi(shown.value, expected.unit), expected.si, tolerance) === within;
    if (agrees || digits === MOST_DIGITS) return shown.text;
  }
}

const MOST_DIGITS = 15;

/** A value on the very edge of its tolerance (4.5 printed as 4) agrees; rounding noise must not decide. */
function isWithin(found: number, expected: number, tolerance: number): boolean {
  return Math.abs(found - expected) <= tolerance + 1e-9 * Math.abs(expected);
}

function numbersOf(result: ResultValue | undefined): number[] | undefined {
  if (result?.type === 'number') return [result.si];
  if (result?.type === 'list') return result.items.map(({ si }) => si);
  return undefined;
}

/** The text as it stands in the definition. */
function inDefinition(text: Text): string {
  return typeof text === 'string' ? text : (text.english ?? text.key);
}

function take<T>(reading: { ok: true; value: T } | { ok: false; problem: Problem }): T {
  if (reading.ok) return reading.value;
  throw new Error(say(reading.problem));
}

function say(problem: Problem): string {
  return wordMessage(problem.code, problem.data as never).message;
}
