import type { EvaluatedCheck } from '../engine/definition/evaluated.ts';
import { tellMargin } from '../engine/definition/tell-margin.ts';
import { displayValue } from '../quantity/display.ts';
import { unit } from '../quantity/unit.ts';
import type { Text } from '../words/sentence.ts';

/** A check as far as it sets two numbers against each other. */
export type JudgedNumbers<T extends Text = Text> = Pick<
  EvaluatedCheck<T>,
  'value' | 'limit' | 'margin' | 'atLimit' | 'relation' | 'counts'
>;

const PERCENT = unit('%');

/**
 * The margin of a check as it follows from its two numbers as they are printed: '+12 %', '−3.4 %', '< +0.1 %'. Undefined where it is no
 * part of the limit, and where things are counted.
 */
export function wordMargin({
  value,
  limit,
  margin,
  atLimit,
  relation,
  counts,
}: JudgedNumbers): string | undefined {
  if (margin?.of !== 'limit' || counts) return undefined;
  if (atLimit) return '0 %';
  if (value?.type !== 'number' || limit?.type !== 'number') return undefined;
  const told = tellMargin(margin, value.displayed.value, relation, limit.displayed.value);
  if (!told) return undefined;
  if ('below' in told) return `${told.isInHand ? '< +' : '> −'}${told.below} %`;
  const { percent, step } = told;
  const digits = Math.floor(Math.log10(Math.abs(percent)) + 1e-9) - Math.round(Math.log10(step)) + 1;
  const { print } = displayValue(percent, PERCENT, { digits });
  return percent > 0 ? `+${print}` : print;
}
