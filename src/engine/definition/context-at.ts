import { quantityFromSi } from '../../quantity/quantity.ts';
import type { GivenInput } from './inputs.ts';
import type { PointJudge } from './point-judge.ts';
import type { Point } from './point-judgement.ts';
import type { ShowContext } from './show-step.ts';

/** What would be shown at a point of the ranges: its values in place of those stated. */
export function contextAt(context: ShowContext, judge: PointJudge, point: Point): ShowContext {
  const { calculation } = context;
  return {
    calculation,
    get digits() {
      return context.digits;
    },
    state: judge.compute(point),
    inputs: new Map([...context.inputs].map(([name, input]) => [name, inputAt(input, point.get(name))])),
  };
}

function inputAt(input: GivenInput, si: number | undefined): GivenInput {
  const { value } = input;
  if (si === undefined || value.type !== 'quantity' || si === value.quantity.si) return input;
  const quantity = quantityFromSi(si, value.quantity.unit);
  return { ...input, computed: true, value: { type: 'quantity', quantity } };
}
