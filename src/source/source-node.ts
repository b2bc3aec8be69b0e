import type { Place } from '../diagnostics/place.ts';

/** YAML with places: what an author wrote, before anything is known about what it means. */
export type SourceNode = ScalarNode | ReferenceNode | FormulaNode | ListNode | MapNode | EmptyNode;

export interface ScalarNode {
  readonly type: 'scalar';
  /** The text of the scalar, quotes removed: '7.5 m'. Numbers and dates stay as they were written. */
  readonly text: string;
  readonly place: Place;
}

/** `!ref block.name` or `!ref equipment.TX1.lightning_impulse_withstand` */
export interface ReferenceNode {
  readonly type: 'reference';
  readonly target: string;
  readonly place: Place;
}

/** `!formula "{block.name} + 0.3 m"` */
export interface FormulaNode {
  readonly type: 'formula';
  readonly text: string;
  readonly place: Place;
}

export interface ListNode {
  readonly type: 'list';
  readonly items: readonly SourceNode[];
  readonly place: Place;
}

export interface MapNode {
  readonly type: 'map';
  readonly entries: readonly MapEntry[];
  readonly place: Place;
}

export interface MapEntry {
  readonly key: string;
  readonly keyPlace: Place;
  readonly value: SourceNode;
  /** Within braces, a key without a colon: `8/20 at 10 kA` in `{ source: test report, 8/20 at 10 kA }`. */
  readonly bare?: true;
}

export interface EmptyNode {
  readonly type: 'empty';
  /** Something was written, but is at fault; that has been reported, and there is no more to say. */
  readonly reported?: true;
  readonly place: Place;
}
