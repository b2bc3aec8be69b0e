import type { CompiledCalculation } from '../engine/definition/compiled.ts';

/** The calculation of a block. */
export interface KnownCalculation {
  readonly compiled: CompiledCalculation;
  /** In the content of a query it stands for the whole of the definition: the name in the catalogue, or the author's definition. */
  readonly key: string;
}
