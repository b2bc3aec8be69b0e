import type { Displayed } from '../../quantity/display.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { Text } from '../../words/sentence.ts';
import { laterFields } from './later-fields.ts';

/** The value of a given as it enters a calculation. */
export type Value =
  | { readonly type: 'quantity'; readonly quantity: Quantity }
  | { readonly type: 'choice'; readonly choice: string }
  | { readonly type: 'list'; readonly items: readonly Quantity[] }
  /** A table; cells of optional columns may be absent. A list of names is one with the one column `name`. */
  | { readonly type: 'rows'; readonly rows: readonly Readonly<Record<string, Quantity | string>>[] };

/** A result: a number in SI with its display, or the words that stand where there is no number. */
export type ResultValue<T extends Text = Text> =
  | NumberResult
  | { readonly type: 'words'; readonly words: T; readonly unit: Unit }
  /** A choice that a step made, such as a selected class. */
  | { readonly type: 'choice'; readonly choice: string }
  | {
      readonly type: 'list';
      readonly items: readonly {
        readonly si: number;
        readonly displayed: Displayed;
        readonly entered?: Quantity;
      }[];
      readonly unit: Unit;
    };

export interface NumberResult {
  readonly type: 'number';
  readonly si: number;
  readonly unit: Unit;
  readonly displayed: Displayed;
  /** What an author entered and the step only hands on: it is printed as it was entered. */
  readonly entered?: Quantity;
  /** As of a number in a sentence. */
  readonly signedAs?: Displayed;
}

/** A number that is displayed when somebody asks what it looks like in print. */
export function numberShown(
  si: number,
  unit: Unit,
  display: () => Displayed,
  entered?: Quantity,
): NumberResult {
  const own = { type: 'number' as const, si, unit, ...(entered ? { entered } : {}) };
  return shownLater(own, () => ({ displayed: display() }));
}

const shownLater = laterFields<Pick<NumberResult, 'displayed'>>('displayed');
