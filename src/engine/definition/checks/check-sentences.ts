import { nearestName } from '../../../diagnostics/nearest-name.ts';
import { problem } from '../../../diagnostics/problem.ts';
import { PLACEHOLDER, ROWS } from '../../../words/sentence.ts';
import type { CompiledCalculation } from '../compiled.ts';
import type { DefinitionFault } from '../definition-fault.ts';

/** Placeholders in sentences for which there is no value, and braces that put nothing in. */
export function checkSentences(calculation: CompiledCalculation): DefinitionFault[] {
  const { definition, checks } = calculation;
  const filled = [
    ...checks.flatMap(({ name, remedies }) =>
      remedies.map(({ text }) => [`checks.${name}.remedies`, text, undefined] as const),
    ),
    ...Object.entries(definition.cautions ?? {}).map(
      ([id, { text, over }]) => [`cautions.${id}`, text, over] as const,
    ),
  ];
  // A limit of validity is printed as it stands, but for the rows that break it.
  const plain = Object.entries(definition.validity ?? {}).map(
    ([id, { text, over }]) => [`validity.${id}`, text, over] as const,
  );
  const known = [...calculation.symbols.keys()];
  const ofRows = (over: string | undefined) => (over === undefined ? [] : [ROWS]);
  return [
    ...filled.flatMap(([where, text, over]) => checkSentence(where, text, [...known, ...ofRows(over)])),
    ...plain.flatMap(([where, text, over]) => checkSentence(where, text, ofRows(over))),
  ];
}

function checkSentence(where: string, text: string, known: readonly string[]): DefinitionFault[] {
  const wrong = [...text.matchAll(/\{[^{}]*\}|[{}]/g)]
    .map(([piece]) => piece)
    .filter((piece) => {
      const name = nameIn(piece);
      return name === undefined || !known.includes(name);
    });
  return wrong.map((piece) => {
    const nearest = nearestName(piece.replace(/[{}]/g, ''), known);
    return { where, problem: problem('unknown-placeholder', { text: piece, nearest }) };
  });
}

function nameIn(piece: string): string | undefined {
  return [...piece.matchAll(PLACEHOLDER)][0]?.[1];
}
