import type { CompiledCalculation } from '../definition/compiled.ts';

/**
 * The block of a calculation to paste into a note: the content of a `yaml calc` block, without a line break at its end. Undefined
 * where the definition has none, as an author's own.
 *
 * @throws where the example does not begin with its id
 */
export function exampleBlock({ definition }: CompiledCalculation): string | undefined {
  const { name, example } = definition;
  if (example === undefined) return undefined;
  const lines = example.split('\n').slice(1, -1);
  const margin = /^ */.exec(lines[0] ?? '')![0].length;
  const [id, ...rest] = lines.map((line) => line.slice(margin));
  if (!id?.startsWith('id: ')) throw new Error(`the example of ${name} does not begin with its id`);
  return [id, `calculation: ${name}`, ...rest].join('\n');
}
