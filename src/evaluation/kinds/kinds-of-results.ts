import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import { declaredKinds, inferKinds } from '../../engine/definition/infer-kinds.ts';
import type { Inputs } from '../../engine/definition/inputs.ts';
import type { FormulaValues } from '../../formula/formula.ts';
import { kindTerm, knownKind } from '../../quantity/kind-term.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import { mergeKinds, type VoltageKind } from '../../quantity/voltage-kind.ts';

/**
 * The kinds of the results of a run, as they follow from what is stated in the block and declared by its calculation: they depend
 * on no other note.
 */
export function kindsOfResults(
  calculation: CompiledCalculation,
  inputs: Inputs,
  values: FormulaValues,
): ReadonlyMap<string, VoltageKind> {
  const terms = new Map(
    [...calculation.givens.values()]
      .flatMap(declaredKinds)
      .map(([name, declared]) => [name, kindTerm(mergeKinds(declared, statedKind(inputs, name)))] as const),
  );
  inferKinds(calculation, terms, values);
  return new Map(
    [...terms].flatMap(([name, term]) => {
      const kind = knownKind(term);
      return kind ? [[name, kind] as const] : [];
    }),
  );
}

/** What is stated of a given or of a column of its rows: by the first of several values, which are all of one kind. */
function statedKind(inputs: Inputs, name: string): VoltageKind | undefined {
  const [given, column] = name.split('.') as [string, string?];
  const value = inputs.get(given)?.value;
  if (value?.type === 'quantity') return value.quantity.kind;
  if (value?.type === 'list') return value.items[0]?.kind;
  if (value?.type !== 'rows' || column === undefined) return undefined;
  const cells = value.rows.map((row) => row[column]);
  return cells.find((cell): cell is Quantity => typeof cell === 'object')?.kind;
}
