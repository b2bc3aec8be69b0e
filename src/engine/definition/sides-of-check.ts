import type { Formula } from '../../formula/formula.ts';
import { digitsShown, displayEntered, USUAL_DIGITS } from '../../quantity/display.ts';
import { fromSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { CheckDefinition } from './definition.ts';
import type { Side, Sides } from './display-judged.ts';
import { enteredAs } from './entered-as.ts';
import { safeSideOf } from './find-roundings.ts';
import type { Judgement } from './judge-check.ts';
import { declaredDigits, digitsOf, directionOf, type ShowContext } from './show-step.ts';
import { digitsIn, hasFewDigits } from './written-digits.ts';

/** How value and limit of a check are printed where they stand by themselves. */
export function sidesOf(
  context: ShowContext,
  { check, candidate, value, limit }: Pick<Judgement, 'check' | 'candidate' | 'value' | 'limit'>,
): Sides {
  return {
    value: sideOf(context, candidate.value, value, check.unit),
    limit: sideOf(context, candidate.limit, limit, check.unit, check.definition.relation),
  };
}

function sideOf(
  context: ShowContext,
  { root }: Formula,
  si: number | undefined,
  unit: Unit,
  limits?: CheckDefinition['relation'],
): Side {
  const { calculation } = context;
  const entered = root.type === 'name' ? enteredAs(context, root.name, 0) : undefined;
  const isWritten = root.type === 'number' || root.type === 'quantity' || entered !== undefined;
  const written = isWritten && si !== undefined ? fromSi(si, unit) : undefined;
  if (written !== undefined && hasFewDigits(written)) {
    const isAsEntered = entered?.unit.text === unit.text;
    return { digits: isAsEntered ? digitsShown(displayEntered(entered)) : digitsIn(written), inFull: true };
  }
  if (root.type !== 'name')
    return { digits: USUAL_DIGITS, ...(limits ? { direction: safeSideOf(limits) } : {}) };
  const { name } = root;
  const step = calculation.steps.find((one) => one.name === name);
  return {
    digits: digitsOf(context, name, step && declaredDigits(context, step)),
    ...directionOf(context, name),
  };
}
