import { nearestName } from '../../../diagnostics/nearest-name.ts';
import { problem } from '../../../diagnostics/problem.ts';
import type { CompiledCalculation } from '../compiled.ts';
import type { DefinitionFault } from '../definition-fault.ts';
import { PLACEHOLDER } from '../fill-sentence.ts';

/** Placeholders in sentences for which there is no value, and braces that put nothing in. */
export function checkSentences(calculation: CompiledCalculation): DefinitionFault[] {
  const { definition, checks } = calculation;
  const filled = [
    ...checks.flatMap(({ name, remedies }) =>
      remedies.map(({ text }) => [`checks.${name}.remedies`, text] as const),
    ),
    ...Object.entries(definition.cautions ?? {}).map(([id, { text }]) => [`cautions.${id}`, text] as const),
  ];
  // A limit of validity is printed as it stands.
  const plain = Object.entries(definition.validity ?? {}).map(
    ([id, { text }]) => [`validity.${id}`, text] as const,
  );
  const known = [...calculation.symbols.keys()];
  return [
    ...filled.flatMap(([where, text]) => checkSentence(where, text, known)),
    ...plain.flatMap(([where, text]) => checkSentence(where, text, [])),
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
