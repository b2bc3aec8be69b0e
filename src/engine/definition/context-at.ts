import { type Quantity, quantityFromSi } from '../../quantity/quantity.ts';
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
    get powers() {
      return context.powers;
    },
    state: judge.compute(point),
    inputs: new Map([...context.inputs].map(([name, input]) => [name, inputAt(input, point.get(name))])),
  };
}

function inputAt(input: GivenInput, si: number | undefined): GivenInput {
  const { value } = input;
  if (si === undefined || value.type !== 'quantity' || si === value.quantity.si) return input;
  const end = endAt(input, si);
  // An end of a range was entered too, and stands as it was.
  if (end) return { ...input, computed: false, value: { type: 'quantity', quantity: end } };
  const quantity = quantityFromSi(si, value.quantity.unit);
  return { ...input, computed: true, value: { type: 'quantity', quantity } };
}

/** The end of the range of a given that lies at a point, as it was entered; undefined of points between the ends. */
export function endAt({ range }: GivenInput, si: number): Quantity | undefined {
  return range && [range.low, range.high].find((end) => end.si === si);
}
