import type { BlockCase } from './note-source.ts';
import { option } from './read-shape.ts';

/** In the order of a table that sets a block and its variants side by side. */
export const BLOCK_CASES = [
  'as-found',
  'proposed',
  'alternative',
  'auxiliary',
] as const satisfies readonly BlockCase[];

/** For what a block stands. */
export const blockCase = option(BLOCK_CASES);
