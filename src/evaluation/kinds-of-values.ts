import type { Place } from '../diagnostics/place.ts';
import type { CompiledCalculation } from '../engine/definition/compiled.ts';
import { declaredKinds, inferKinds } from '../engine/definition/infer-kinds.ts';
import type { Inputs } from '../engine/definition/inputs.ts';
import type { FormulaValues } from '../formula/formula.ts';
import { type KindTerm, kindTerm, knownKind } from '../quantity/kind-term.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { readQuantity } from '../quantity/read-quantity.ts';
import { hasKind, mergeKinds, type VoltageKind } from '../quantity/voltage-kind.ts';

/**
 * What is stated of the kinds of register entries, and what is learnt of the others from their uses, through all notes of a
 * run: an entry that does not say of which kind it is can serve as one kind only.
 */
export class RegisterKinds {
  readonly #terms = new Map<string, KindTerm>();

  /** The term of the entry of a path; undefined where it is no voltage or current. */
  termOf(path: string, text: string, place: Place): KindTerm | undefined {
    const known = this.#terms.get(path);
    if (known) return known;
    const reading = readQuantity(text);
    if (!reading.ok || !hasKind(reading.value.unit.dimension)) return undefined;
    const term = kindTerm(reading.value.kind, { place, note: 'so it stands in the register' });
    this.#terms.set(path, term);
    return term;
  }
}

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
