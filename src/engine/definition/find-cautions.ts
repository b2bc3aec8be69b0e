import type { Quantity } from '../../quantity/quantity.ts';
import { ROWS, type SentenceData, say } from '../../words/sentence.ts';
import type { CompiledCalculation } from './compiled.ts';
import { type ComputeFault, decide } from './computation.ts';
import { contextAt } from './context-at.ts';
import type { ColumnDefinition, GivenDefinition, RowsGiven } from './definition.ts';
import type { EvaluatedCaution } from './evaluated.ts';
import { type RangeJudgement, rangedGivens } from './judge-over-range.ts';
import { judgeValidity } from './judge-validity.ts';
import { ownMeaning, ownText } from './own-text.ts';
import type { PointJudge } from './point-judge.ts';
import type { Point } from './point-judgement.ts';
import { outside, sayUsual } from './read-given.ts';
import { pointsOver, rowNumbers } from './rows.ts';
import type { ShowContext } from './show-step.ts';
import { dataIn, type ResultOf } from './shown-text.ts';

/**
 * What must be said at the least favourable points of the ranges and need not be said at the stated values; a condition that
 * cannot be decided there is a fault.
 */
export function rangeCautions(
  context: ShowContext,
  judge: PointJudge,
  overRanges: readonly (RangeJudgement | undefined)[],
  said: readonly EvaluatedCaution[],
): { readonly cautions: readonly EvaluatedCaution[]; readonly faults: readonly ComputeFault[] } {
  const { calculation, inputs } = context;
  const axes = rangedGivens(calculation, inputs);
  const faults: ComputeFault[] = [];
  const points: Point[] = [
    ...overRanges.flatMap((overRange) => (overRange ? [overRange.worstPoint] : [])),
    ...axes.flatMap(({ name, low, high }) => [new Map([[name, low]]), new Map([[name, high]])]),
  ];
  const found = new Map<string, EvaluatedCaution>();
  for (const point of points) {
    const state = judge.compute(point);
    if (!judge.isUsable(state)) continue;
    const there = contextAt(context, judge, point);
    const all = [
      ...usualRangeCautions(there),
      ...judgeValidity(calculation, state).cautions,
      ...stateCautions(there),
    ];
    faults.push(...state.faults);
    for (const caution of all) {
      if (said.some(({ id }) => id === caution.id) || found.has(caution.id)) continue;
      found.set(caution.id, { ...caution, text: say('caution.within-ranges', { text: caution.text }) });
    }
  }
  return { cautions: [...found.values()], faults };
}

/** One caution for each given that lies outside its usual range. */
export function usualRangeCautions({ calculation, inputs }: ShowContext): EvaluatedCaution[] {
  return [...inputs].flatMap(([name, { value }]) => {
    const given = calculation.givens.get(name)?.definition;
    if (!given) return [];
    if (given.type === 'rows') {
      if (value.type !== 'rows') return [];
      return Object.entries(given.columns).flatMap(([column, inner]) => {
        const items = value.rows.flatMap((row) => (typeof row[column] === 'object' ? [row[column]] : []));
        return usualRangeCaution(calculation, `${name}.${column}`, inner, items);
      });
    }
    const items = value.type === 'quantity' ? [value.quantity] : value.type === 'list' ? value.items : [];
    return usualRangeCaution(calculation, name, given, items);
  });
}

function usualRangeCaution(
  calculation: CompiledCalculation,
  name: string,
  given: Exclude<GivenDefinition, RowsGiven> | ColumnDefinition,
  items: readonly Quantity[],
): EvaluatedCaution[] {
  if (!('usual' in given) || !given.usual) return [];
  const { usual } = given;
  if (!items.some((item) => !(usual.orNone && item.si === 0) && outside(item.si, usual))) return [];
  const text = say('caution.outside-usual', {
    meaning: ownMeaning(calculation, name),
    usual: sayUsual(usual),
    because: ownText(calculation, `givens.${name}.usual`, usual.because),
  });
  return [{ id: `usual-range-${name}`, text }];
}

/** The cautions of the definition whose condition holds. */
export function stateCautions(context: ShowContext, resultOf?: ResultOf): EvaluatedCaution[] {
  const { calculation, state } = context;
  return calculation.cautions.flatMap(({ when, id, definition }) => {
    const points = pointsOver(calculation, definition.over, state.values).filter(
      (rows) => !when || decide(when, state, id, rows),
    );
    if (points.length === 0) return [];
    const rows: SentenceData = definition.over === undefined ? {} : { [ROWS]: rowNumbers(points) };
    const text = ownText(calculation, `cautions.${id}.text`, definition.text, {
      ...dataIn(context, definition.text, resultOf),
      ...rows,
    });
    return [{ id, text, ...(definition.basis ? { basis: definition.basis } : {}) }];
  });
}
