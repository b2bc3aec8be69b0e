import type { Sentence, Text } from '../words/sentence.ts';

/** A number with its unit, as it is recorded. */
export interface RecordedNumber {
  /** Counts in `unit`. */
  readonly value: number;
  /** ASCII; '1' for a pure number. Words on the kind of a voltage may follow: 'kV peak'. */
  readonly unit: string;
  readonly precision: Precision;
  /** Words before the number: 'at least'. */
  readonly before?: string;
}

/** How many digits are recorded, and how near a new value must lie for the recorded text to stay. */
export interface Precision {
  /** Significant digits. */
  readonly digits: number;
  /** Relative. */
  readonly tolerance: number;
  /**
   * Significant digits that a sign-off covers: so few that a value seldom lies within its tolerance of where rounding turns
   * (one in 500 at most of formulas, one in 50 of numerical methods).
   */
  readonly signed: number;
}

/** Values of formulas and tables. */
export const EXACT: Precision = { digits: 12, tolerance: 1e-9, signed: 6 };
/** Values that a numerical method supplies. */
export const NUMERICAL: Precision = { digits: 6, tolerance: 1e-6, signed: 4 };

/** What is recorded, in the order in which it is written. */
export type RecordedNode =
  | { readonly type: 'text'; readonly text: string }
  /** Recorded in words; a sign-off covers which sentence it is and what stands in it. */
  | { readonly type: 'sentence'; readonly sentence: Sentence }
  | { readonly type: 'number'; readonly number: RecordedNumber }
  | { readonly type: 'list'; readonly items: readonly RecordedNode[] }
  | { readonly type: 'map'; readonly entries: readonly (readonly [string, RecordedNode])[] };

export function textNode(text: Text): RecordedNode {
  return typeof text === 'string' ? { type: 'text', text } : { type: 'sentence', sentence: text };
}

export function numberNode(
  value: number,
  unit: string,
  precision: Precision = EXACT,
  before?: string,
): RecordedNode {
  return {
    type: 'number',
    number: { value, unit, precision, ...(before === undefined ? {} : { before }) },
  };
}

/** A map of what there is: entries without a node, and empty maps and lists, are left out. */
export function mapNode(entries: readonly (readonly [string, RecordedNode | undefined])[]): RecordedNode {
  return {
    type: 'map',
    entries: entries.flatMap(([key, node]) => (node === undefined || isEmpty(node) ? [] : [[key, node]])),
  };
}

function isEmpty(node: RecordedNode): boolean {
  return (
    (node.type === 'map' && node.entries.length === 0) || (node.type === 'list' && node.items.length === 0)
  );
}
