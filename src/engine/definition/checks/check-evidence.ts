import { nearestName } from '../../../diagnostics/nearest-name.ts';
import { problem } from '../../../diagnostics/problem.ts';
import type { CompiledCalculation } from '../compiled.ts';
import type { ColumnDefinition, EvidenceGiven, Expectation, GivenDefinition } from '../definition.ts';
import type { DefinitionFault } from '../definition-fault.ts';
import { VERDICTS } from '../evaluated.ts';
import { optionsOf } from './possible-cases.ts';
import { wordsOfNames } from './possible-words.ts';
import { findUnknown } from './unknown-part.ts';

/** Evidence that names what is not there. Its quantities are read where it is run. */
export function checkEvidence(calculation: CompiledCalculation): DefinitionFault[] {
  const { definition } = calculation;
  const givens = Object.keys(definition.givens);
  const results = [...Object.keys(definition.steps), ...Object.keys(definition.checks ?? {})];
  return definition.evidence.flatMap(({ given, expect }, i) => {
    const where = `evidence.${i}`;
    return [
      ...findUnknown(`${where}.given`, Object.keys(given), 'a given', givens),
      ...Object.entries(given).flatMap(([name, written]) =>
        checkGiven(calculation, `${where}.given`, name, written),
      ),
      ...findUnknown(`${where}.expect`, Object.keys(expect), 'a step or a check', results),
      ...Object.entries(expect).flatMap(([name, one]) =>
        checkExpected(calculation, `${where}.expect`, name, one),
      ),
    ];
  });
}

function checkGiven(
  calculation: CompiledCalculation,
  where: string,
  name: string,
  written: EvidenceGiven,
): DefinitionFault[] {
  const given = calculation.givens.get(name);
  if (!given) return [];
  const { definition } = given;
  const items = typeof written === 'object' ? written : [written];
  return items.flatMap((item) => {
    if (typeof item !== 'object') return checkOption(where, name, definition, item);
    if (definition.type !== 'rows') return [];
    return [
      ...findUnknown(where, Object.keys(item), `a column of ${name}`, Object.keys(definition.columns)),
      ...Object.entries(item).flatMap(([column, value]) => {
        const inner = definition.columns[column];
        return inner ? checkOption(where, column, inner, value) : [];
      }),
    ];
  });
}

function checkOption(
  where: string,
  name: string,
  given: GivenDefinition | ColumnDefinition,
  written: string | number,
): DefinitionFault[] {
  const text = String(written);
  const options = given.type === 'choice' ? Object.keys(given.options) : [text];
  if (options.includes(text)) return [];
  const data = { name, text, nearest: nearestName(text, options), options };
  return [{ where, problem: problem('unknown-option', data) }];
}

function checkExpected(
  calculation: CompiledCalculation,
  where: string,
  name: string,
  expectation: Expectation,
): DefinitionFault[] {
  const step = calculation.steps.find((one) => one.name === name);
  if ('verdict' in expectation) {
    const checks = Object.keys(calculation.definition.checks ?? {});
    return [
      ...findUnknown(where, step ? [name] : [], 'a check', checks),
      ...findUnknown(where, [expectation.verdict], 'a verdict', VERDICTS),
    ];
  }
  if (!step) return [];
  if ('words' in expectation) {
    const known = [...wordsOfNames(calculation, [name])];
    return findUnknown(where, [expectation.words], `what '${name}' can say in place of a number`, known);
  }
  if ('choice' in expectation) {
    return findUnknown(where, [expectation.choice], `an option of '${name}'`, optionsOf(calculation, name));
  }
  return [];
}
