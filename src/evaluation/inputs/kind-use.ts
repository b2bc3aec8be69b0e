import type { Place } from '../../diagnostics/place.ts';
import type { SymbolTable } from '../../formula/formula.ts';
import type { VoltageKind } from '../../quantity/voltage-kind.ts';

/** A voltage or current that a block takes as one of its givens: as data, so that what it tells of kinds can be joined later. */
export interface KindUse {
  /** The given, or the column of a table: 'lines.voltage'. */
  readonly name: string;
  /** What the calculation declares of it. */
  readonly declared: VoltageKind | undefined;
  /** As it was written. */
  readonly text: string;
  /** How a formula would name it. */
  readonly inFormula: string;
  /** What is stated of the value, or follows from what is stated. */
  readonly kind: VoltageKind | undefined;
  readonly place: Place;
  /** An end of the range of a given, or its margin. */
  readonly isBound?: true;
  readonly from: KindOrigin;
}

/** Where a value comes from: written there, another block or the register, or a formula over such. */
export type KindOrigin =
  | { readonly type: 'stated' }
  | { readonly type: 'target'; readonly target: string }
  | { readonly type: 'formula'; readonly symbols: SymbolTable };
